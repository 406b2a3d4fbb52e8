"""Faults of a sheet in words: the field, what was given, what is allowed; one line a fault."""

from django.utils.translation import gettext

from fitting.sheets.bounds import Allowed, allowed_in
from fitting.sheets.faults import Fault
from fitting.sheets.record import Record

# An empty file or field, as the fault shows it.
_BLANK = frozenset({'""', '"\\n"', '"\\r\\n"'})


def say_fault(fault: Fault, sheet: type[Record]) -> str:
    """Say one fault: ``player.height_mm: 17570 given; a number from 900 to 2300 allowed``."""
    return f"{fault.field}: {say_given_and_allowed(fault, sheet)}"


def say_given_and_allowed(fault: Fault, sheet: type[Record]) -> str:
    """Say what was given and what is allowed, without naming the field."""
    allowed = allowed_in(sheet, fault.field)
    if fault.kind == "json_invalid":
        return gettext("%(given)s given, which is not JSON (%(error)s); one JSON object allowed") % {
            "given": gettext("nothing") if fault.given in _BLANK else fault.given,
            "error": fault.allowed.get("error", ""),
        }
    if fault.kind in ("model_type", "model_attributes_type") and fault.field == "sheet":
        return gettext("%(given)s given; one JSON object allowed") % {"given": fault.given}
    if fault.kind == "missing":
        return gettext("nothing given; %(allowed)s needed") % {"allowed": say_allowed(allowed)}
    if fault.kind == "extra_forbidden":
        return gettext("%(given)s given, but there is no such field; %(allowed)s allowed") % {
            "given": fault.given,
            "allowed": say_allowed(allowed),
        }
    if fault.kind == "value_error":
        return gettext("%(given)s given; %(allowed)s allowed") % {
            "given": fault.given,
            "allowed": fault.allowed.get("error", say_allowed(allowed)),
        }
    if fault.kind in ("too_short", "too_long"):
        return gettext("%(given)s given, %(count)s long; %(least)s to %(most)s allowed") % {
            "given": fault.given,
            "count": fault.allowed.get("actual_length", "?"),
            "least": fault.allowed.get("min_length", "0"),
            "most": fault.allowed.get("max_length", gettext("any number")),
        }
    return gettext("%(given)s given; %(allowed)s allowed") % {
        "given": fault.given,
        "allowed": say_allowed(allowed),
    }


def say_allowed(allowed: Allowed) -> str:
    """Say what a field takes."""
    if allowed.kind == "values":
        if len(allowed.values) == 1:
            return allowed.values[0]
        return gettext("one of %(values)s") % {"values": ", ".join(allowed.values)}
    if allowed.kind == "record":
        return gettext("the fields %(fields)s") % {"fields": ", ".join(allowed.fields)}
    words = {
        "integer": gettext("a whole number"),
        "number": gettext("a number"),
        "boolean": gettext("true or false"),
        "string": gettext("text"),
        "date": gettext("a date such as 2027-04-30"),
        "array": gettext("a list"),
    }
    kind = words.get(allowed.kind, allowed.kind)
    if allowed.least is None or allowed.most is None:
        return kind
    between = gettext("%(kind)s from %(least)s to %(most)s")
    if not allowed.least_counts:
        between = gettext("%(kind)s above %(least)s, up to %(most)s")
    return between % {"kind": kind, "least": f"{allowed.least:g}", "most": f"{allowed.most:g}"}
