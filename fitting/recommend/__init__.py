"""The recommendation: one fitting sheet in, one complete build sheet with its reasons out."""

from fitting.recommend.recommend import recommend

__all__ = ["recommend"]
