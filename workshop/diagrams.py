"""The moves of a commission and of a bat as diagrams, from the tables themselves."""

from collections.abc import Callable, Iterable
from itertools import pairwise

from orders.commissions.stages import STAGE_MOVES
from orders.commissions.states import BENCH_STAGES, Stage, State
from orders.commissions.transitions import DOERS, TRANSITIONS

Arrow = tuple[str, str, str]


def commission_diagram() -> str:
    """Draw the states of a commission with the verbs between them and who may."""
    arrows = [
        (str(before), str(after), f"{verb} ({doers(verb)})")
        for verb, (froms, after) in TRANSITIONS.items()
        for before in State
        if before in froms
    ]
    return _drawn([("[*]", str(State.SENT), "open"), *arrows], ends=_ends(arrows))


def bat_diagram() -> str:
    """Draw the stages of a bat with the verbs between them, each step as a full round goes."""
    order = [*BENCH_STAGES, Stage.INSPECTION]
    arrows: list[Arrow] = [(str(Stage.WAITING), str(BENCH_STAGES[0]), "begin")]
    arrows += [(str(a), str(b), "pass_on") for a, b in pairwise(order)]
    for verb in ("pass_inspection", "open_round"):
        froms, tos = STAGE_MOVES[verb]
        arrows += [(str(before), str(after), verb) for before in froms for after in tos]
    froms, tos = STAGE_MOVES["go_back"]
    arrows += [
        (str(before), str(after), "go_back")
        for before in order
        for after in order
        if before in froms and after in tos and order.index(after) < order.index(before)
    ]
    return _drawn([("[*]", str(Stage.WAITING), "accept"), *arrows], ends=())


def doers(verb: str) -> str:
    """Say who may, or that it is the clock."""
    return ", ".join(sorted(role.replace("_", " ") for role in DOERS[verb])) or "the clock"


def _ends(arrows: Iterable[Arrow]) -> tuple[str, ...]:
    leave = {before for before, _after, _verb in arrows}
    return tuple(str(state) for state in State if str(state) not in leave)


def _drawn(arrows: Iterable[Arrow], *, ends: Iterable[str]) -> str:
    """Write Mermaid; verbs between the same two states share an arrow."""
    merged: dict[tuple[str, str], list[str]] = {}
    for before, after, verb in arrows:
        merged.setdefault((before, after), []).append(verb)
    lines = [f"    {before} --> {after}: {', '.join(verbs)}" for (before, after), verbs in merged.items()]
    return "\n".join(["stateDiagram-v2", *lines, *(f"    {end} --> [*]" for end in ends)])


DIAGRAMS: dict[str, Callable[[], str]] = {"commission": commission_diagram, "bat": bat_diagram}
