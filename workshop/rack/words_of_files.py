"""Why a file of clefts, or a value in it, is not taken: what was given, what is allowed, what was meant."""

from django.utils.translation import gettext, ngettext

from workshop.rack.columns import ValueRefused
from workshop.rack.sheets import SheetUnreadable
from workshop.rack.words import refused_reading


def refused_value(error: ValueRefused) -> str:
    """Return why a value was not taken and what is allowed."""
    if error.reading is not None:
        return refused_reading(error.reading)
    words = error.words
    if error.kind == "empty":
        return gettext("Nothing given; this column is needed.")
    if error.kind == "not_whole":
        return gettext("A whole number from %(least)s to %(most)s is allowed.") % words
    if error.kind == "not_one_of":
        return gettext("Allowed are: %(allowed)s.") % {"allowed": ", ".join(words["allowed"])}
    if error.kind == "too_long":
        return gettext("%(length)s signs given; %(most)s at most are allowed.") % words
    if error.kind == "unprintable":
        return gettext("There is a sign in it that cannot be printed; plain text is allowed.")
    if error.kind == "no_day":
        return gettext("A day such as %(example)s is allowed.") % words
    if error.kind == "day_outside":
        return gettext("A day from 2000-01-01 to %(today)s, today, is allowed.") % words
    if error.kind == "no_price":
        return gettext("A sum such as 85 or 85.50 is allowed.")
    return _of_the_rack(error)


def _of_the_rack(error: ValueRefused) -> str:
    words = error.words
    if error.kind == "on_rack":
        return gettext("A cleft of this number is on the rack already.")
    if error.kind == "twice":
        return gettext("Row %(row)s has this number already.") % words
    if error.kind == "grower_without_load":
        return gettext("A grower belongs to a load; name the load too.")
    if error.kind == "other_grower":
        return gettext("This load is noted as being from %(grower)s.") % words
    if error.kind == "blemish_beyond":
        return gettext("This is farther from end 1 than the cleft is long, %(length).1f mm.") % words
    if error.kind == "too_many_blemishes":
        return gettext("%(most)s blemishes at most are kept for a cleft.") % words
    return gettext(
        "“%(part)s” is not understood; write kind, side, mm from end 1, mm across and size in mm, such as "
        "“knot a 120 45 8”, and a semicolon between two."
    ) % {"part": words.get("part", "")}


def unreadable(error: SheetUnreadable) -> str:
    """Return why a whole file was not taken."""
    words = error.words
    if error.kind == "too_big":
        return gettext("This file has %(given).1f MB; %(most)d MB at most are read.") % {
            "given": words["given"] / 1024**2,
            "most": words["most"] / 1024**2,
        }
    if error.kind == "not_utf8":
        return gettext(
            "This file is not written in UTF-8. Save it as “CSV UTF-8” or as xlsx, and send it again."
        )
    if error.kind in ("empty", "no_rows"):
        return gettext("There is no cleft in this file: a row of column names and a row a cleft are needed.")
    if error.kind == "too_many_rows":
        return gettext("This file has more than %(most)s rows. Send it in parts.") % words
    if error.kind == "too_many_columns":
        return (
            gettext("This file has more than %(most)s columns. The clefts must stand in its first sheet.")
            % words
        )
    if error.kind == "column_twice":
        return gettext("These columns stand in the file twice: %(columns)s.") % {
            "columns": ", ".join(words["columns"])
        }
    if error.kind == "columns_missing":
        return _missing(error)
    return gettext("This file is no table that can be read. CSV and xlsx are taken.")


def _missing(error: SheetUnreadable) -> str:
    missing, found, near = error.words["missing"], error.words["found"], error.words["near"]
    told = [
        ngettext(
            "This column is missing: %(missing)s.", "These columns are missing: %(missing)s.", len(missing)
        )
        % {"missing": ", ".join(missing)},
        gettext("The first row has: %(found)s.") % {"found": ", ".join(name[:40] for name in found[:30])},
    ]
    told += [
        gettext("Did you mean %(meant)s where the file has “%(given)s”?")
        % {"meant": name, "given": given[:40]}
        for name, given in near.items()
    ]
    return " ".join(told)
