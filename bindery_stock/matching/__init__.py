"""Which piece serves which part: plain values in, plain values out."""

from bindery_stock.matching.burden import Burden, burdens
from bindery_stock.matching.campaign import Pin
from bindery_stock.matching.cloth_under import ClothUnder, cloth_under, shade_on
from bindery_stock.matching.fits import Left, Lying, fit, flaws_in_the_way, left_over
from bindery_stock.matching.hoard import Hoard
from bindery_stock.matching.line_up import MOST_LAID, LineUp, line_up
from bindery_stock.matching.one_more import OneMore, one_more
from bindery_stock.matching.plan import Outcome, PartServed, Plan, Unplaced, Why
from bindery_stock.matching.price_account import Jump, Reckoning
from bindery_stock.matching.prices import LEFT_OUT, Prices
from bindery_stock.matching.ranking import Match, NearMiss, Ranking, match_at, rank
from bindery_stock.matching.seen_cloth import by_seen_cloth, ranked_by_seen_cloth
from bindery_stock.matching.share_out import share_out
from bindery_stock.matching.values import ANOTHER_COLOUR, HIDDEN_WEIGHT, Face, Part, Piece
from bindery_stock.matching.volumes_to_come import expected

__all__ = [
    "ANOTHER_COLOUR",
    "HIDDEN_WEIGHT",
    "LEFT_OUT",
    "MOST_LAID",
    "Burden",
    "ClothUnder",
    "Face",
    "Hoard",
    "Jump",
    "Left",
    "LineUp",
    "Lying",
    "Match",
    "NearMiss",
    "OneMore",
    "Outcome",
    "Part",
    "PartServed",
    "Piece",
    "Pin",
    "Plan",
    "Prices",
    "Ranking",
    "Reckoning",
    "Unplaced",
    "Why",
    "burdens",
    "by_seen_cloth",
    "cloth_under",
    "expected",
    "fit",
    "flaws_in_the_way",
    "left_over",
    "line_up",
    "match_at",
    "one_more",
    "rank",
    "ranked_by_seen_cloth",
    "shade_on",
    "share_out",
]
