"""The facts that both papers of a volume are made of: its proposal and its treatment record."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photograph in the record."""

    caption: str
    data: str
    """A ``data:`` address with the whole picture, so that the record is one file;
    empty where it is gone."""
    width: int
    height: int
    """Pixels of the picture in it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionLine:
    """One course that was weighed."""

    number: str
    recommended: bool
    what: str
    gain: str
    risk: str
    undo: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLine:
    """One piece put into the book."""

    name: str
    size: str
    material: str
    piece: str
    """Code of the stock it was cut from, and where it lay in that."""
    where: str
    """What of it is seen and what lies hidden."""
    colour: str
    """ΔE00 from the colour sought, where both were measured."""
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One thing that was done."""

    day: str
    what: str
    material: str
    undo: str
    """How it can be undone; empty where that was not written."""
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialLine:
    """A piece of stock or a lot of adhesive that went into the book."""

    code: str
    what: str
    origin: str
    """Where it came from, its maker's batch, its dates."""
    verdict: str
    """What the rules said of its use, and of what it was tested for."""
    override: str
    """The reason written where it was used against a verdict."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingLine:
    """What the rules said against something that was done, and why it was done all the same."""

    day: str
    what: str
    ruling: str
    reason: str
    """The binder's own; empty where none was written."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TreatmentRecord:
    """Everything the record says; what was not written is empty."""

    name: str
    """What the binder calls the volume."""
    made_on: str
    identity: tuple[tuple[str, str], ...]
    """Label and words: title, author, imprint, owner, set and volume, code."""
    binding: tuple[tuple[str, str], ...]
    """Feature and words: covering, grain, boards … former repairs."""
    examined: str
    """By whom and when."""
    measures: str
    condition: str
    damage: tuple[str, ...]
    before: tuple[Picture, ...]
    aims: str
    options: tuple[OptionLine, ...]
    recommendation: str
    risks: str
    consent: str
    """Who consented, how and when."""
    estimate: tuple[tuple[str, str], ...]
    """Label and words: hours, parts, price, adhesives."""
    plan: tuple[PartLine, ...]
    steps: tuple[StepLine, ...]
    materials: tuple[MaterialLine, ...]
    cautions: tuple[str, ...]
    covering_cautions: tuple[str, ...]
    """Those of them that the volume's own covering raises."""
    deferring: str
    """To whom cautions give way; empty where there is none."""
    hours: str
    during: tuple[Picture, ...]
    after: tuple[Picture, ...]
    aftercare: str = ""
    chosen: tuple[str, ...] = ()
    """Damage by damage: the treatment chosen, and why it is not the one proposed."""
    note: str = ""
    rulings: tuple[RulingLine, ...] = ()

    @property
    def title(self) -> str:
        """What stands over the record."""
        return f"Treatment record: {self.name}"

    @property
    def missing(self) -> tuple[str, ...]:
        """What the guidelines ask for and the record does not have."""
        gaps = [
            ("the examiner and the day", bool(self.examined)),
            ("the condition before treatment", bool(self.condition or self.damage)),
            ("photographs before treatment", bool(self.before)),
            ("what was done", bool(self.steps)),
            ("how each step can be undone", all(step.undo for step in self.steps)),
            ("photographs after treatment", bool(self.after)),
            ("the aims of the treatment", bool(self.aims)),
            ("the options weighed", bool(self.options)),
            ("the risks told", bool(self.risks)),
            ("the owner's consent", bool(self.consent)),
            ("after-care", bool(self.aftercare)),
        ]
        return tuple(words for words, there in gaps if not there)
