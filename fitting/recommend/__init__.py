"""From a fitting sheet to a recommended bat with its reasons."""

from fitting.recommend.effects import whole_bats, with_effects
from fitting.recommend.recommend import recommend

__all__ = ["recommend", "whole_bats", "with_effects"]
