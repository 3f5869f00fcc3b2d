"""Matches by the cloth that is seen under the part, where the piece has a colour map.

The reading of a piece is that of one clean patch; under the part the cloth may be faded, stained
or stamped. What is seen there is the figure of the match from then on: shown, ordered and kept.
"""

from collections.abc import Iterable
from dataclasses import replace

from bindery_stock.matching.ranking import Match, NearMiss, Ranking, tied


def by_seen_cloth(match: Match) -> Match:
    """The match with ΔE00 of the cloth seen where the part lies.

    The same where no colour map tells of it, another face was matched, or no figure may be given.
    """
    alone = match.delta_e if match.alone is None else match.alone
    if alone is None or match.under is None:
        return match
    return replace(match, delta_e=match.under.delta_e, alone=alone)


def ranked_by_seen_cloth(ranking: Ranking, matches: Iterable[Match]) -> Ranking:
    """The answer with these as its matches, in order and tied anew by their figures.

    A match whose cloth lies beyond what is allowed wherever it was looked at does not serve any
    more: it comes first among the near misses. Where the poorest is sought the order stays.
    """
    part, listed = ranking.part, list(matches)
    if part.lab is None or not part.shown:
        return replace(ranking, matches=tuple(listed))
    beyond = [one for one in listed if one.alone is not None and _figure(one) > part.farthest]
    near = [NearMiss(part, one.piece, one.delta_e, under=True) for one in beyond]
    serving = sorted((one for one in listed if one not in beyond), key=_figure)
    return replace(ranking, matches=tuple(tied(serving)), near_misses=(*near, *ranking.near_misses))


def _figure(match: Match) -> float:
    """What was seen and not measured stands last."""
    return float("inf") if match.delta_e is None else match.delta_e
