"""Another stockroom's things entered into this one, as one step."""

from collections.abc import Iterator, Mapping

from bindery_stock.errors import StockError, Unchanged
from bindery_stock.stock.exchange.comparison import Fate, MergeChoice, MergeItem, compare
from bindery_stock.stock.exchange.merge_rows import HEADS, StockTold, owner_of, reference
from bindery_stock.stock.exchange.theirs import DEEDS
from bindery_stock.stock.keeping.tables import CodeSeriesRow
from bindery_stock.stock.ledger.movements import Draft, Key, Row, to_json
from bindery_stock.stock.ledger.whole import JSON_COLUMNS, Whole
from bindery_stock.stock.pieces.changes import next_code
from bindery_stock.stock.table_base import Base
from bindery_stock.stock.tables import TRACKED


def merge(
    draft: Draft,
    ours: Whole,
    theirs: Whole,
    choices: Mapping[tuple[str, str], MergeChoice],
) -> int:
    """Take the other stockroom's things in; returns how many came new or in the place of ours.

    ``choices`` says, by table and code, what becomes of what differs; what is not named is kept as
    it is here. Raises ``Unchanged`` where nothing would change, and ``StockError`` where theirs was
    chosen in the place of what must stay.
    """
    taken_in = _TakingIn(draft, ours, theirs)
    plan = compare(ours, theirs)
    # Codes that are free here are kept before others are given out.
    for item in sorted(plan.items, key=lambda item: item.fate is not Fate.NEW):
        wanted = choices.get((item.table, item.code), MergeChoice.KEEP)
        differs = item.fate is Fate.DIFFERS
        if differs and wanted is MergeChoice.TAKE and item.ours_stays:
            raise StockError(
                f"{item.code}: theirs cannot be taken instead, since {item.ours_stays}. Nothing "
                "was changed. Choose another way for it."
            )
        new = item.fate in (Fate.NEW, Fate.RENAMED) or (differs and wanted is MergeChoice.BOTH)
        taken_in.decide(item, new=new)
        if differs and wanted is MergeChoice.TAKE:
            taken_in.replace(item)
    count = taken_in.enter()
    if not count:
        raise Unchanged("Everything there is here already. Nothing was changed.")
    return count


class _TakingIn:
    """Gives the rows of the other stockroom numbers of this one, and enters them."""

    def __init__(self, draft: Draft, ours: Whole, theirs: Whole) -> None:
        self._draft = draft
        self._theirs = theirs
        self._here, self._there = StockTold(ours), StockTold(theirs)
        self._replaced: dict[Key, Key] = {}
        """Things of theirs that take the place of ours."""
        self._dropped: list[Key] = []
        """What hung on ours and is replaced with it."""
        self._codes = {
            (table, row["code"]): row["id"] for table in HEADS for row in ours.tables[table]
        }
        self._names = {row["name"] for row in ours.tables["repair"]}
        self._numbers: dict[Key, int] = {}
        """For each row of theirs that is here or comes: its number here."""
        self._new: set[Key] = set()
        self._next = {
            name: max([ours.sequences.get(name, 0), *(row["id"] for row in ours.tables[name])])
            for name in TRACKED
        }
        self._new_codes: dict[Key, str] = {}

    def decide(self, item: MergeItem, *, new: bool) -> None:
        """Take a thing in as new, or take the one here for it."""
        key = (item.table, item.row_id)
        if not new:
            self._numbers[key] = self._codes[item.table, item.code]
            return
        self._number(key)
        taken = (item.table, item.code) in self._codes
        letter = item.code.partition("-")[0]
        code = next_code(self._draft, letter) if taken else item.code
        if not taken:
            _reserve_number(self._draft, letter, int(item.code.partition("-")[2]))
        self._new_codes[key] = code
        self._draft.born.append(code)
        self._draft.touches(code)

    def replace(self, item: MergeItem) -> None:
        """Take a thing of theirs in the place of ours, with what hangs on it.

        What hangs on both alike stays, so that what refers to it still does.
        """
        theirs = (item.table, item.row_id)
        ours = (item.table, self._numbers[theirs])
        self._replaced[theirs] = ours
        hung, hung_there = self._here.hung(ours), self._there.hung(theirs)
        for table in hung.keys() | hung_there.keys():
            alike: dict[str, list[Key]] = {}
            for key, told in hung.get(table, {}).items():
                alike.setdefault(told, []).append(key)
            for key, told in hung_there.get(table, {}).items():
                if alike.get(told):
                    self._numbers[key] = alike[told].pop(0)[1]
                else:
                    self._number(key)
            if table not in DEEDS:
                self._dropped.extend(key for keys in alike.values() for key in keys)
        self._draft.touches(item.code)

    def _number(self, key: Key) -> None:
        self._next[key[0]] += 1
        self._numbers[key] = self._next[key[0]]
        self._new.add(key)

    def enter(self) -> int:
        """Enter what is new with all that hangs on it.

        What hangs on nothing, such as reorder points, is a setting of this stockroom and stays.
        """
        rows = list(self._rows())
        new_heads = {key for key in self._new if key[0] in HEADS}
        for name, row in rows:
            if (name, row["id"]) not in self._numbers:
                owner = owner_of(name, row)
                if owner is not None and owner in new_heads:
                    self._number((name, row["id"]))
        for name, row_id in self._dropped:
            self._draft.session.delete(self._draft.session.get(TRACKED[name], row_id))
        self._draft.session.flush()
        for table in Base.metadata.sorted_tables:
            for name, row in rows:
                if name == table.name and (name, row["id"]) in self._new:
                    self._draft.session.add(TRACKED[name](**self._translated(name, row)))
            self._draft.session.flush()
        for theirs, ours in self._replaced.items():
            self._write_over(theirs, ours)
        return len(self._new_codes) + len(self._replaced)

    def _write_over(self, theirs: Key, ours: Key) -> None:
        entity = self._draft.session.get(TRACKED[ours[0]], ours[1])
        own = self._here.rows[ours]
        self._names.discard(str(own.get("name", "")))
        for column, value in self._translated(theirs[0], self._there.rows[theirs]).items():
            if column not in ("id", "code"):
                setattr(entity, column, value)

    def _rows(self) -> Iterator[tuple[str, Row]]:
        for name in TRACKED:
            for row in self._theirs.tables.get(name, ()):
                yield name, row

    def _translated(self, name: str, row: Row) -> Row:
        key = (name, row["id"])
        made: Row = {}
        for column, value in row.items():
            target = reference(name, column)
            if target is not None and target != "photo" and value is not None:
                made[column] = self._numbers.get((target, value))
            elif column in JSON_COLUMNS and value is not None and not isinstance(value, str):
                made[column] = to_json(value)
            else:
                made[column] = value
        made["id"] = self._numbers[key]
        if key in self._new_codes:
            made["code"] = self._new_codes[key]
        if name == "repair":
            made["name"] = self._free_name(str(row["name"]))
        return made

    def _free_name(self, name: str) -> str:
        free, count = name, 1
        while free in self._names:
            count += 1
            free = f"{name} ({count})"
        self._names.add(free)
        return free


def _reserve_number(draft: Draft, letter: str, number: int) -> None:
    series = draft.session.get(CodeSeriesRow, letter)
    if series is None:
        draft.session.add(CodeSeriesRow(letter=letter, last=number))
    elif series.last < number:
        series.last = number
    draft.session.flush()
