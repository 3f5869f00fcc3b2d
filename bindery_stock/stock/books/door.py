"""What a binder does with the volumes on the bench: each verb is one step of the ledger."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from bindery_stock.stock.books import changes as book_changes
from bindery_stock.stock.books import part_changes, treatments
from bindery_stock.stock.books import questions as book_questions
from bindery_stock.stock.books.kept_shade import KeptShade
from bindery_stock.stock.books.overrides import EveryOverride, Overrides
from bindery_stock.stock.books.values import (
    BookPart,
    BookSet,
    NewBookSet,
    NewPart,
    NewRepair,
    NewTreatment,
    PlannedPlacement,
    Repair,
    Treatment,
)
from bindery_stock.stock.door import Group
from bindery_stock.stock.ledger.movements import Draft
from bindery_stock.stock.ledger.values import Changes, Verb
from bindery_stock.stock.pieces.values import Cutting, StockPiece
from bindery_stock.units import LengthStyle


class Books(Group):
    """Sets, volumes, parts and treatment: what is asked of them and done with them."""

    def book_sets(self) -> list[BookSet]:
        """Every set, in the order of entry."""
        found: list[BookSet] = self._ask(book_questions.book_sets)
        return found

    def book_set(self, code: str) -> BookSet:
        """The set with this code. Raises ``NotFound``."""
        found: BookSet = self._ask(book_questions.book_set, code)
        return found

    def repairs(self, *, book_set: str | None = None) -> list[Repair]:
        """The volumes on the bench, of one set by their numbers, or all."""
        found: list[Repair] = self._ask(book_questions.repairs, book_set=book_set)
        return found

    def repair(self, code: str) -> Repair:
        """The volume with this code. Raises ``NotFound``."""
        found: Repair = self._ask(book_questions.repair, code)
        return found

    def parts(
        self,
        *,
        volume: str | None = None,
        book_set: str | None = None,
        ids: Collection[int] | None = None,
    ) -> list[BookPart]:
        """The parts of one volume, of one set, of these ids, or all, in the order of the work."""
        found: list[BookPart] = self._ask(
            book_questions.parts, volume=volume, book_set=book_set, ids=ids
        )
        return found

    def part(self, part_id: int) -> BookPart:
        """One part. Raises ``NotFound``."""
        found: BookPart = self._ask(book_questions.part, part_id)
        return found

    def treatments(self, volume: str) -> list[Treatment]:
        """What was done to a volume, oldest first."""
        found: list[Treatment] = self._ask(book_questions.treatments, volume)
        return found

    def overrides(self, *, book_set: str | None = None, volume: str | None = None) -> Overrides:
        """The allowances set for all work, for a set, and for a volume with its set."""
        found: Overrides = self._ask(book_questions.overrides, book_set=book_set, volume=volume)
        return found

    def every_override(self) -> EveryOverride:
        """The allowances set for all work, for each set and for each volume."""
        found: EveryOverride = self._ask(book_questions.every_override)
        return found

    def cut_for_parts(self) -> list[StockPiece]:
        """The pieces that parts were cut from, and all that each of those was cut from."""
        found: list[StockPiece] = self._ask(book_questions.cut_for_parts)
        return found

    def add_set(self, new: NewBookSet) -> Changes:
        """Enter a set of volumes; ``Changes.born`` has its code. Raises ``EntryError``."""

        def work(draft: Draft) -> str:
            book_changes.add_set(draft, new)
            return f"Entered the set {new.title.strip()}"

        return self._do(Verb.SURVEYED, work)

    def correct_set(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a set: any fields of ``NewBookSet``."""

        def work(draft: Draft) -> str:
            book_changes.correct_set(draft, code, fields)
            return f"Corrected {', '.join(fields).replace('_', ' ')} of set {code}"

        return self._do(Verb.CORRECTED, work)

    def add_repair(self, new: NewRepair) -> Changes:
        """Enter a volume; ``Changes.born`` has its code.

        Raises ``EntryError`` for what cannot be kept and for a name that is taken, ``NotFound``
        for a set or photograph that is not there (``archive_photo`` first).
        """

        def work(draft: Draft) -> str:
            book_changes.add_repair(draft, new)
            return f"Surveyed {new.name.strip()}"

        return self._do(Verb.SURVEYED, work)

    def correct_repair(self, code: str, **fields: Any) -> Changes:
        """Put right what is known of a volume: any fields of ``NewRepair``; raises as adding."""

        def work(draft: Draft) -> str:
            was = book_changes.correct_repair(draft, code, fields)
            return book_changes.corrected_words(was, fields)

        return self._do(Verb.CORRECTED, work)

    def copy_survey(self, code: str, names: Sequence[str]) -> Changes:
        """Enter volumes like this one under these names, in one step."""

        def work(draft: Draft) -> str:
            book_changes.copy_survey(draft, code, names)
            like = book_questions.repair(draft.session.connection(), code).name
            return f"Copied the survey of {like} to {', '.join(names)}"

        return self._do(Verb.SURVEYED, work)

    def set_allowances(
        self,
        values: Mapping[str, float | None],
        *,
        book_set: str | None = None,
        volume: str | None = None,
    ) -> Changes:
        """Set allowances in mm for a volume, a set, or all work; ``None`` sets one free again.

        Raises ``EntryError`` for a name that is none and a value that cannot be.
        """

        def work(draft: Draft) -> str:
            book_changes.set_allowances(draft, values, book_set=book_set, volume=volume)
            words = ", ".join(values).replace("-", " ")
            return f"Set allowances for {volume or book_set or 'all work'}: {words}"

        return self._do(Verb.CORRECTED, work)

    def plan_parts(
        self,
        code: str,
        parts: Sequence[NewPart],
        *,
        again: Sequence[PlannedPlacement] = (),
    ) -> Changes:
        """Make these the parts of a volume; what is cut or fitted stays.

        A reserved part whose size changes gives up its cloth, unless ``again`` lays the new size.
        Raises ``Unchanged`` within a step where nothing would change.
        """

        def work(draft: Draft) -> str:
            part_changes.plan_parts(draft, code, parts, again)
            volume = book_questions.repair(draft.session.connection(), code)
            return f"Planned the parts of {volume.name}"

        return self._do(Verb.PLANNED, work)

    def plan_volumes(
        self,
        parts: Mapping[str, Sequence[NewPart]],
        *,
        again: Sequence[PlannedPlacement] = (),
    ) -> Changes:
        """Make these the parts of volumes, by their codes, as ``plan_parts``.

        Where they are all so already, nothing is written.
        """

        def work(draft: Draft) -> str:
            changed = part_changes.plan_volumes(draft, parts, again)
            return f"Planned the parts of {', '.join(changed or parts)}"

        return self._do(Verb.PLANNED, work)

    def accept_plan(
        self, layings: Sequence[PlannedPlacement], *, unserved: Collection[int] = ()
    ) -> Changes:
        """Reserve every choice of a plan in one step; parts in ``unserved`` are marked so.

        Raises ``StockError`` where a choice no longer lies in free cloth: nothing is reserved then.
        """

        def work(draft: Draft) -> str:
            parts, pieces = part_changes.accept(draft, layings, unserved)
            if len(layings) == 1 and not unserved:
                kept = book_questions.part(draft.session.connection(), layings[0].part)
                return f"Reserved {kept.piece} for {kept.purpose}"
            told = f"Shared out {_counted(parts, 'part')} over {_counted(pieces, 'piece')}"
            return f"{told}; nothing serves {len(unserved)}" if unserved else told

        return self._do(Verb.RESERVED, work)

    def release_parts(self, part_ids: Collection[int]) -> Changes:
        """Give up the cloth reserved for these parts. Raises ``StockError`` where none is."""

        def work(draft: Draft) -> str:
            return (
                f"Released the cloth of {_counted(part_changes.release(draft, part_ids), 'part')}"
            )

        return self._do(Verb.RELEASED, work)

    def cut_part(
        self, part_id: int, cutting: Cutting, *, shade: KeptShade | None = None
    ) -> Changes:
        """Cut a part from a piece; raises as ``Stockroom.cut``.

        Its reservation is fulfilled, those of other parts go to the offcuts they lie in.
        ``shade`` is how far the cloth is from the colour sought, where that is known just now.
        """

        def work(draft: Draft) -> str:
            part = part_changes.cut_part(draft, part_id, cutting, shade)
            size = LengthStyle().pair(cutting.width, cutting.height)
            return f"Cut {part.purpose} {size} from {cutting.code}"

        return self._do(Verb.CUT, work)

    def mark_fitted(
        self, part_ids: Sequence[int], treatment: NewTreatment | None = None
    ) -> Changes:
        """Say that parts of one volume are in the book, with a line for its record.

        Raises ``StockError`` where one is reserved but not cut, or is fitted already.
        """

        def work(draft: Draft) -> str:
            parts = part_changes.fit(draft, part_ids)
            if treatment is not None:
                treatments.record(draft, parts[0].repair, treatment)
            return f"Fitted {', '.join(part.purpose for part in parts)}"

        return self._do(Verb.FITTED, work)

    def leave_out(self, part_ids: Collection[int]) -> Changes:
        """Say that parts are not wanted after all; their cloth is free again."""

        def work(draft: Draft) -> str:
            parts = part_changes.leave_out(draft, part_ids, out=True)
            return f"Left out {', '.join(part.purpose for part in parts)}"

        return self._do(Verb.PLANNED, work)

    def want_again(self, part_ids: Collection[int]) -> Changes:
        """Say that parts left out, or given up as unserved, are wanted."""

        def work(draft: Draft) -> str:
            parts = part_changes.leave_out(draft, part_ids, out=False)
            return f"Wanted again: {', '.join(part.purpose for part in parts)}"

        return self._do(Verb.PLANNED, work)

    def record_treatment(self, code: str, new: NewTreatment) -> Changes:
        """Write a line into the treatment of a volume; raises ``EntryError``, ``NotFound``."""

        def work(draft: Draft) -> str:
            return f"{treatments.record(draft, code, new)}: {new.what.strip()}"

        return self._do(Verb.TREATED, work)

    def spend_hours(self, code: str, hours: float, on: str) -> Changes:
        """Put hours to a volume. Raises ``EntryError`` where they are no number of hours."""

        def work(draft: Draft) -> str:
            name = treatments.record(draft, code, NewTreatment(what=on, hours=hours))
            return f"{hours:g} h on {name}: {on.strip()}"

        return self._do(Verb.TREATED, work)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
