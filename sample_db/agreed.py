"""What was weighed and agreed for three volumes of the set; the third waits for its owner's word.

Everything is invented.
"""

from datetime import date

from bindery_stock.trade.care import CareOption, CarePlan

_BINDER = "W. Ashgrove"
_LEFT_AS_IT_IS = CareOption(
    what="Leave it as it is, tied up, in a box",
    gain="Nothing of the binding is changed.",
    risk="It cannot be lent; the split goes on with each opening.",
    undo="Wholly.",
    hours=1.0,
)
_FOR_READING = (
    "The volume is read in the room again; what is left of the first binding stays on it."
)
FIRST_CARE = CarePlan(
    examiner=_BINDER,
    examined_on=date(2026, 9, 14),
    aims=_FOR_READING,
    options=(
        _LEFT_AS_IT_IS,
        CareOption(
            what="Reback in old cloth of the same rib, under the cloth of the boards",
            gain="The boards are firm; the sides keep their cloth and gilding.",
            risk="The cloth of the boards is lifted 12 mm and may fray at the edge.",
            undo="The strip lies on tissue and comes away with it.",
            hours=5.5,
        ),
    ),
    recommended=1,
    recommendation="The back is lost already, and the set is in use.",
    risks="The shade of the strip differs a little; the lettering of the back is not made up.",
    aftercare="Stand it upright between its neighbours, out of the sun; open it on a cradle.",
    consent="H. Marwood for the reading room, by letter",
    consented_on=date(2026, 9, 21),
)
SECOND_CARE = CarePlan(
    examiner=_BINDER,
    examined_on=date(2026, 9, 14),
    aims=_FOR_READING,
    options=(
        _LEFT_AS_IT_IS,
        CareOption(
            what="Reback, and lay the old back over the new strip",
            gain="The old title stays in its place.",
            risk="The old back is thin at the head and may part there as it is lifted.",
            undo="Strip and back come away under a damp poultice.",
            hours=3.0,
        ),
    ),
    recommended=1,
    recommendation="The old back is nearly whole and can be lifted.",
    risks="The new cloth shows at the head.",
    aftercare="As the first volume.",
    consent="H. Marwood for the reading room, by letter",
    consented_on=date(2026, 9, 21),
)
THIRD_CARE = CarePlan(
    examiner=_BINDER,
    examined_on=date(2026, 11, 16),
    aims=_FOR_READING,
    options=(
        _LEFT_AS_IT_IS,
        CareOption(
            what="Mend the front joint with toned tissue over the split",
            gain="The least that is done to it; dry in an evening.",
            risk="Tissue bears less than cloth: a heavy hand opens it again.",
            undo="Comes off with a damp brush.",
            hours=1.0,
        ),
        CareOption(
            what="Lay a strip of ribbed cloth under both joints",
            gain="It bears daily use.",
            risk="The cloth of boards and back is lifted along both joints.",
            undo="The strip comes away under a damp poultice.",
            hours=2.5,
        ),
    ),
    recommended=2,
    recommendation="The volume is asked for every week; tissue alone would not last.",
    risks="A line of new cloth may be seen in the joint when the board is open.",
    aftercare="As the first volume.",
)
