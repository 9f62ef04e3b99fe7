"""The safety page: what the plan does not replace, a set-up card for each tool, and the sources.

Takes a `SoundPlan`; gives its page.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from benchleaf.safety.loading import SIGNALS
from benchleaf.safety.records import CallOut, CallOuts
from benchleaf.site.escaping import make_anchor
from benchleaf.site.records import Page, Section
from benchleaf.site.views.sound import SoundPlan
from benchleaf.site.views.table import Column, Table, write_row

# Cards that are of no tool: what holds everywhere comes first, the finished piece last.
_SHOP = "the shop"
_PIECE = "the piece"
# What edge tools and drivers call for is a line or two each: they share a card.
_HAND_TOOLS = "hand tools"
_BY_HAND = frozenset(
    {
        "block plane",
        "bow saw",
        "brace",
        "chisel",
        "hand plane",
        "hand saw",
        "keyhole saw",
        "marking knife",
        "plough plane",
        "rebate plane",
        "screwdriver",
        "spanner",
        "spokeshave",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeferenceView:
    """Context of `deference.html`: words only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardView:
    """Context of `card.html`."""

    groups: tuple[tuple[str, tuple[CallOut, ...]], ...]
    """Signal word, most severe first, to the call-outs that stand under it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SourcesView:
    """Context of `sources.html`."""

    table: Table


def view_safety(sound: SoundPlan) -> Page:
    """Make the page to read before the first machine is switched on."""
    deference = Section(heading="", anchor="first", template="deference.html", view=DeferenceView())
    sections = [deference, *(_view_card(name, own) for name, own in _gather_cards(sound).items())]
    sources = _list_sources(sound.call_outs)
    if sources.rows:
        view = SourcesView(table=sources)
        sections.append(
            Section(heading="Sources", anchor="sources", template="sources.html", view=view)
        )
    return Page(
        key="safety",
        title="Safety",
        short_title="Safety",
        description=f"Set-up cards and sources for the tools that {sound.plan.title} takes.",
        sections=tuple(sections),
        parent="index",
        place=sound.place("plan"),
    )


def _order_cards(sound: SoundPlan) -> tuple[str, ...]:
    """The shop, then the tools as they come into use, then any other, then the piece."""
    used = [operation.tool for operation in sound.sequence.operations]
    names = dict.fromkeys([_SHOP, *used, *sorted(sound.call_outs.cards)])
    names.pop(_PIECE, None)
    return tuple(name for name in (*names, _PIECE) if sound.call_outs.cards.get(name))


def _gather_cards(sound: SoundPlan) -> dict[str, tuple[CallOut, ...]]:
    """The cards in order, those of hand tools as one, each with the most severe first."""
    gathered: dict[str, list[CallOut]] = {}
    for name in _order_cards(sound):
        card = _HAND_TOOLS if name in _BY_HAND else name
        gathered.setdefault(card, []).extend(sound.call_outs.cards[name])
    return {
        name: tuple(sorted(own, key=lambda call_out: SIGNALS.index(call_out.signal)))
        for name, own in gathered.items()
    }


def _view_card(name: str, call_outs: tuple[CallOut, ...]) -> Section:
    heading = {_SHOP: "At every tool", _PIECE: "The finished piece"}.get(
        name, f"Set-up card: {name}"
    )
    return Section(
        heading=heading,
        anchor=f"card-{make_anchor(name)}",
        template="card.html",
        view=CardView(
            groups=tuple(
                (signal, tuple(group))
                for signal, group in groupby(call_outs, key=lambda call_out: call_out.signal)
            )
        ),
    )


def _list_sources(call_outs: CallOuts) -> Table:
    groups = (*call_outs.by_step.values(), *call_outs.cards.values())
    cited = {
        (source.key, source.title, source.status)
        for group in groups
        for call_out in group
        for source in call_out.sources
    }
    columns = (Column("Key"), Column("Document"), Column("How it was checked"))
    return Table(
        caption="What the call-outs of this plan rest on",
        columns=columns,
        rows=tuple(write_row(*row) for row in sorted(cited)),
    )
