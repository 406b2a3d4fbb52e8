"""Choices of the blade: sweet spot, profile, edges, bow, face and toe."""

from dataclasses import dataclass
from typing import cast

from fitting.recommend.findings import Findings
from fitting.recommend.scores import Decision, choose
from fitting.sheets.book import Book, LengthRow
from fitting.sheets.build_sheet import Scoop
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.values import Profile, SweetSpot, Thickness


@dataclass(frozen=True)
class BladeChoices:
    """The blade's choices, each with its scores."""

    sweet_spot: Decision
    profile: Decision
    edges: Decision
    bow: Decision
    face: Decision
    toe: Decision
    scoop: Decision

    @property
    def sweet_spot_value(self) -> SweetSpot:
        """The sweet spot chosen."""
        return cast(SweetSpot, self.sweet_spot.option)

    @property
    def profile_value(self) -> Profile:
        """The profile chosen."""
        return cast(Profile, self.profile.option)

    @property
    def edges_value(self) -> Thickness:
        """The edges chosen."""
        return cast(Thickness, self.edges.option)


def choose_blade(sheet: FittingSheet, findings: Findings, book: Book) -> BladeChoices:
    """Choose one after the other, so that a later choice knows the earlier ones."""
    wishes = sheet.wishes
    sweet = choose("sweet_spot", findings, book, wishes.sweet_spot, "wishes.sweet_spot")
    findings = findings.knowing(sweet_spot=sweet.option)
    profile = choose("profile", findings, book, wishes.profile, "wishes.profile")
    findings = findings.knowing(profile=profile.option)
    toe = choose("toe", findings, book, wishes.toe, "wishes.toe")
    findings = findings.knowing(toe=toe.option)
    return BladeChoices(
        sweet_spot=sweet,
        profile=profile,
        edges=choose("edges", findings, book, wishes.edges, "wishes.edges"),
        bow=choose("bow", findings, book, wishes.bow, "wishes.bow"),
        face=choose("face", findings, book, wishes.face, "wishes.face"),
        toe=toe,
        scoop=choose("scoop", findings, book),
    )


def swell_from_toe_mm(choice: SweetSpot, blade_mm: float, book: Book) -> float:
    """Middle of the band of a choice, told on the reference blade, in proportion on another; whole mm."""
    low, high = swell_band_mm(choice, blade_mm, book)
    return float(round((low + high) / 2))


def swell_band_mm(choice: SweetSpot, blade_mm: float, book: Book) -> tuple[float, float]:
    """Band of the swell for a choice on a blade of this length, mm from the toe."""
    numbers = book.wish_numbers
    band = {
        "low": numbers.swell_low_mm,
        "mid": numbers.swell_mid_mm,
        "high": numbers.swell_high_mm,
        "long": numbers.swell_long_mm,
    }[choice]
    scale = blade_mm / numbers.reference_blade_mm
    return band[0] * scale, band[1] * scale


def bow_mm(option: str, book: Book) -> float:
    """A bow in words as its depth, mm."""
    numbers = book.wish_numbers
    return {"none": numbers.bow_none_mm, "slight": numbers.bow_slight_mm, "full": numbers.bow_full_mm}[option]


def crown_mm(option: str, book: Book) -> float:
    """A face in words as its crown, mm; ``resting`` is what the press leaves by itself."""
    numbers = book.wish_numbers
    return {
        "flat": numbers.crown_flat_mm,
        "resting": numbers.crown_resting_mm,
        "rounded": numbers.crown_rounded_mm,
    }[option]


def toe_depth_mm(option: str, row: LengthRow, book: Book) -> float:
    """A toe in words as its depth at the centre, mm: a junior's in proportion, inside the trade's limits."""
    numbers, limits = book.wish_numbers, book.trade_limits(row.code)
    depth = {
        "light": numbers.toe_light_mm,
        "standard": numbers.toe_standard_mm,
        "strong": numbers.toe_strong_mm,
    }[option]
    least = limits.toe_strong_centre_least_mm if option == "strong" else limits.toe_centre_least_mm
    scale = row.spine_mm / book.length("short_handle").spine_mm
    return min(max(depth * scale, least), limits.toe_most_mm)


def scoop_of(profile: Profile, row: LengthRow, book: Book) -> Scoop:
    """The scoop that goes with a profile, in proportion to the blade's length."""
    numbers, scale = book.rules.profiles[profile], row.blade_mm / book.wish_numbers.reference_blade_mm
    return Scoop(
        length_mm=round(numbers.scoop_length_mm * scale, 1),
        depth_mm=round(numbers.scoop_depth_mm * scale, 1),
    )
