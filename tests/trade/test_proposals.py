"""The least treatment that is right is proposed, and every other says why it is not.

The cases stand by treatment: one where it is proposed and one where it is refused. Published
choice rules name their source, all read in excerpt; the rest is common practice, no source, or a
limit that this program proposes.
"""

from dataclasses import replace
from datetime import date

import pytest

from bindery_stock.errors import EntryError, RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Harm, LabResult, Mark, Survey, load_rules, shipped_rules
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.covering import CoveringCloth
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.damages import PlacedDamage
from bindery_stock.trade.proposals import Rank, TreatmentProposal, propose
from bindery_stock.trade.treatment_entries import load_treatments, shipped_treatments
from bindery_stock.trade.volume_facts import VolumeFacts, facts_of, stopped

RULES = shipped_rules()
KINDS = shipped_damages()
TREATMENTS = shipped_treatments()
SHIPPED = (resources() / "treatments.toml").read_text("utf-8")
BOOK = Survey(
    spine_width=30,
    joint=6,
    board_height=200,
    board_width=130,
    leaf_height=194,
    leaf_width=128,
    lift=12,
)
SOUND = VolumeFacts(
    survey=BOOK,
    work_stopped=False,
    wet_stopped=False,
    mull_torn=0.0,
    sewing_broken=False,
    cloth_brittle=False,
    paper_brittle=False,
    paper_coated=False,
    rare=False,
    rebind=False,
    hard_use=False,
    caoutchouc=False,
    tide_marks=False,
    ground_blocked=False,
    sewn_headband=False,
    tube_back=False,
)
"""A volume of which everything is known and nothing else is wrong."""


def at(kind: str, place: BookPlace | None = None, **rest) -> PlacedDamage:
    return PlacedDamage(kind=kind, place=place or KINDS[kind].places[0], **rest)


def one(*damages: PlacedDamage, **facts) -> TreatmentProposal:
    """The proposal for the first of them."""
    return propose(damages, replace(SOUND, **facts))[0]


def proposed(*damages: PlacedDamage, **facts) -> str | None:
    found = one(*damages, **facts).proposed
    return None if found is None else found.treatment.key


SPLIT = at("joint-split")
ENDPAPERS = BookPlace.UPPER_ENDPAPERS
CASES: dict[str, tuple[tuple, tuple]] = {
    # treatment: (damages and facts where it is proposed), (where it is refused)
    # AIC, Commentaries: the choice starts at no treatment.
    "leave": (
        (at("joint-tender", goes_on=False), {}),
        (at("joint-tender"), {}),
    ),
    # Dyal and Merrill-Oldham 1998, first and second repair; never on rubber: common practice.
    "hinge-tighten": (
        (at("block-loose", along=60), {}),
        (at("block-loose", along=60), {"caoutchouc": True}),
    ),
    "hinge-tighten-open": (
        (at("pastedown-lifted", BookPlace.UPPER_HINGE, along=40, across=15), {}),
        (at("pastedown-lifted", ENDPAPERS, along=40, across=15), {}),
    ),
    "pastedown-relay": (
        (at("pastedown-lifted", ENDPAPERS, along=40, across=15), {}),
        (at("pastedown-lifted", ENDPAPERS, along=40, across=15), {"mull_torn": 0.5}),
    ),
    # Indiana University Libraries: whole mull; web repair series: torn for no more than a quarter.
    "hinge-tissue": (
        (at("hinge-broken", along=48), {}),
        (at("hinge-broken", along=49), {}),
    ),
    # Bailey 1916: not if ever to be bound anew.
    "hinge-cloth": (
        (at("hinge-cracked"), {"hard_use": True, "paper_brittle": True}),
        (at("hinge-cracked"), {"hard_use": True, "rebind": True}),
    ),
    # Etherington; Smithsonian Libraries 2014; not for hard use: common practice.
    "joint-tissue": (
        (at("joint-cracked", along=30), {}),
        (at("joint-cracked", along=30), {"hard_use": True}),
    ),
    "joint-cloth": (
        (at("joint-cracked", along=30), {"hard_use": True}),
        (at("joint-cracked", along=30), {"survey": replace(BOOK, lift=5)}),
    ),
    "cap-piece": (
        (at("cap-lost", along=12), {}),
        (at("cap-lost", along=60), {}),
    ),
    # Indiana and New York University Libraries: attachment and boards sound, harm at the spine;
    # nick the mull and it becomes a full reback.
    "partial-reback": (
        (SPLIT, {}),
        (SPLIT, {"mull_torn": 0.4}),
    ),
    "full-reback": (
        (SPLIT, {"mull_torn": 0.4}),
        (at("mull-failed"), {}),
    ),
    # Indiana University Libraries: sewn, the paper stands it, the case undamaged.
    "recase": (
        (at("block-detached"), {}),
        ((at("block-detached"), SPLIT), {}),
    ),
    "new-case": (
        (at("case-lost"), {}),
        (at("case-lost"), {"rare": True}),
    ),
    # Conservation DistList 4:44: clean where lining or glue failed.
    "reline": (
        (at("wrong-glue"), {}),
        (at("wrong-glue"), {"caoutchouc": True}),
    ),
    "hollow-tube": (
        (at("hollow-lost"), {}),
        (at("hollow-lost"), {"survey": replace(BOOK, spine_width=12)}),
    ),
    # Library post on board slotting: it suits tube hollows.
    "board-slot": (
        (at("board-detached"), {"mull_torn": 1.0, "tube_back": True}),
        (at("board-detached"), {"mull_torn": 1.0}),
    ),
    "board-new": (
        (at("board-lost"), {}),
        ((at("board-lost"), at("board-lost", BookPlace.LOWER_BOARD)), {}),
    ),
    "consolidate-board": (
        (at("corner-soft", along=12), {}),
        (at("corner-soft", along=25), {}),
    ),
    "corner-rebuild": (
        (at("corner-bare", along=12), {}),
        (at("corner-bare", along=4), {}),
    ),
    # Poster on edge facing: not where a test bleeds or leaves a tide line.
    "edge-facing": (
        (at("edges-worn", along=60), {}),
        (at("edges-worn", along=60), {"tide_marks": True}),
    ),
    "lay-cloth": (
        (at("cloth-lifted", along=20, across=30), {}),
        (at("hole", along=20, across=30), {}),
    ),
    "hole-patch": (
        (at("hole", along=20, across=30), {}),
        (at("hole", along=100, across=80), {}),
    ),
    # Indiana University Libraries: not brittle; web repair series: 3 to 4 leaves; Cockerell 1901:
    # a leaf of value is guarded, with no pasting on.
    "tip-in": (
        (at("leaf-loose"), {}),
        (at("leaf-loose"), {"rare": True}),
    ),
    "fold-guard": (
        (at("leaf-loose"), {"paper_brittle": True}),
        (at("leaf-loose", count=11), {}),
    ),
    # Web repair series: one or two sections.
    "guard-sew": (
        (at("sections-loose", count=2), {}),
        (at("sections-loose", count=3), {}),
    ),
    "resew": (
        (at("sections-loose", count=3), {}),
        (at("sections-loose", count=2), {}),
    ),
    "endpapers": (
        (at("endpaper-lost"), {}),
        (at("endpaper-lost"), {"paper_brittle": True}),
    ),
    "flyleaf": (
        (at("flyleaf-lost"), {}),
        ((at("flyleaf-lost"), at("endpaper-lost")), {}),
    ),
    "tape-removal": (
        (at("old-tape", along=40), {}),
        (at("old-tape", along=40), {"ground_blocked": True}),
    ),
    # Practitioner's note: an original sewn headband is never replaced.
    "headband": (
        (at("headband-lost"), {}),
        (at("headband-lost"), {"sewn_headband": True}),
    ),
    "leaf-mend": (
        (at("leaf-torn", along=40), {}),
        (at("leaf-torn", along=40), {"paper_coated": True}),
    ),
}


def _asked(case: tuple) -> tuple[tuple[PlacedDamage, ...], dict]:
    damages, facts = case
    return (damages,) if isinstance(damages, PlacedDamage) else damages, facts


@pytest.mark.parametrize("key", sorted(TREATMENTS.by_key))
def test_each_treatment_has_a_case_where_it_is_proposed(key):
    damages, facts = _asked(CASES[key][0])
    assert proposed(*damages, **facts) == key


@pytest.mark.parametrize("key", sorted(TREATMENTS.by_key))
def test_each_treatment_has_a_case_where_it_is_refused_with_reason_fact_and_change(key):
    damages, facts = _asked(CASES[key][1])
    option = one(*damages, **facts).option(key)
    assert option.rank is Rank.REFUSED
    for unmet in option.unmet:
        assert unmet.reason.endswith(".")
        assert ": " in unmet.fact
        assert unmet.change
        assert unmet.provenance.words


@pytest.mark.parametrize(
    ("kind", "lengths"),
    [
        ("cap-lost", {3: "edge-facing", 4: "edge-facing", 5: "cap-piece", 50: "cap-piece",
                      51: "partial-reback"}),
        ("joint-cracked", {30: "joint-tissue", 100: "joint-tissue", 101: "partial-reback"}),
        ("hinge-broken", {48: "hinge-tissue", 49: "recase"}),
        ("mull-failed", {48: "hinge-tissue", 49: "recase"}),
        ("corner-bare", {4: "edge-facing", 5: "corner-rebuild"}),
        ("corner-soft", {20: "consolidate-board", 21: "corner-rebuild"}),
        ("old-tape", {100: "tape-removal", 101: None}),
    ],
)  # fmt: skip
def test_changing_the_extent_changes_the_proposal(kind, lengths):
    assert {length: proposed(at(kind, along=length)) for length in lengths} == lengths


@pytest.mark.parametrize(
    ("kind", "counts"),
    [
        ("leaf-loose", {1: "tip-in", 4: "tip-in", 5: "fold-guard", 10: "fold-guard", 11: "resew"}),
        ("sections-loose", {1: "guard-sew", 2: "guard-sew", 3: "resew"}),
    ],
)
def test_changing_the_count_changes_the_proposal(kind, counts):
    assert {count: proposed(at(kind, count=count)) for count in counts} == counts


def test_a_hole_is_laid_down_patched_or_too_large_by_its_extent():
    def sized(along, across):
        return proposed(at("hole", along=along, across=across))

    assert sized(4, 4) == "lay-cloth"
    assert sized(4, 5) == "hole-patch"
    assert sized(50, 130) == "hole-patch"
    assert sized(51, 130) == "new-case"


def test_a_loose_hinge_is_tightened_and_no_reback_is_thought_of():
    """Dyal and Merrill-Oldham 1998: the commonest repair takes no cloth."""
    found = one(at("block-loose", along=60))
    assert found.proposed is not None
    assert found.proposed.treatment.parts == ()
    assert "partial-reback" not in [option.treatment.key for option in found.options]


def test_one_damage_changes_what_is_right_for_another():
    """Indiana University Libraries: with the mull torn a partial reback becomes a full one."""
    assert proposed(SPLIT) == "partial-reback"
    assert proposed(SPLIT, at("mull-failed")) == "full-reback"
    assert proposed(SPLIT, at("mull-failed", along=40)) == "partial-reback"


def test_the_published_rules_that_clash_are_a_limit_of_the_binder(tmp_path):
    """Indiana University Libraries replace mull torn at all; the web series over a quarter."""
    own = tmp_path / "rules.toml"
    own.write_text('[limit.mull-torn-share]\nvalue = 0\nmark = "own rule"\n', "utf-8")
    rules = load_rules(own)
    strict = load_treatments(rules=rules)
    damage = at("hinge-broken", along=10)
    assert proposed(damage) == "hinge-tissue"
    found = propose((damage,), SOUND, rules, treatments=strict)[0]
    assert found.proposed is not None
    assert found.proposed.treatment.key == "recase"


def test_what_nobody_has_established_is_to_be_made_sure_of_and_never_guessed():
    found = propose((at("joint-cracked", along=30),), VolumeFacts(survey=BOOK))[0]
    assert found.proposed is not None
    assert found.proposed.treatment.key == "joint-tissue"
    asked = " ".join(found.proposed.make_sure)
    for words in ("powdery or brittle", "used hard", "tide mark", "mull", "wet work"):
        assert words in asked
    known = propose((at("joint-cracked", along=30),), SOUND)[0].proposed
    assert known is not None
    assert known.make_sure == ()


def test_lending_repairs_warn_on_a_volume_of_value():
    # Northeast Document Conservation Center, Preservation 101: never on volumes of artefact value.
    warned = one(at("block-loose", along=60), rare=True).option("hinge-tighten")
    assert "lending stock" in warned.warnings[0]
    assert one(at("block-loose", along=60)).option("hinge-tighten").warnings == ()


# The green book: hazards come before any deed.


def test_vivid_green_of_its_time_stops_everything_but_a_box():
    green = CoveringCloth(colour_family="vivid green", source_date="1858")
    work, wet = stopped(green, RULES)
    assert work
    assert wet
    found = one(at("wrong-glue"), work_stopped=work, wet_stopped=wet)
    assert found.proposed is not None
    assert found.proposed.treatment.key == "leave"
    assert len(found.option("reline").unmet) == 2


def test_where_only_wet_work_is_stopped_dry_work_goes_on():
    assert proposed(at("wrong-glue"), wet_stopped=True) is None
    assert proposed(at("old-tape", along=20), wet_stopped=True) == "tape-removal"
    reasons = [u.reason for u in one(at("wrong-glue"), wet_stopped=True).option("reline").unmet]
    assert any("forbids water" in reason for reason in reasons)


def test_plain_cloth_with_a_clean_result_stops_nothing():
    assert stopped(CoveringCloth(source_date="1990"), RULES) == (False, False)
    lab = {"on": date(2025, 5, 1), "laboratory": "an invented laboratory", "method": "XRF"}
    found = LabResult(substance="arsenic", found=True, **lab)
    assert stopped(CoveringCloth(source_date="1990", lab_results=(found,)), RULES)[1]


# The data file as a whole


def test_every_damage_begins_with_no_treatment_and_has_another():
    for kind in KINDS.by_key.values():
        assert kind.treatments[0] == "leave"
        assert len(kind.treatments) > 1
        assert len(set(kind.treatments)) == len(kind.treatments)


def test_every_treatment_serves_some_damage_and_is_told_in_full():
    serving = {key for kind in KINDS.by_key.values() for key in kind.treatments}
    assert serving == set(TREATMENTS.by_key)
    for treatment in TREATMENTS.by_key.values():
        assert treatment.right
        assert treatment.not_right
        assert treatment.undo
        assert treatment.needs
        stages = [step.stage for step in treatment.steps]
        assert stages == sorted(stages)
        for said in treatment.cautions:
            assert "they come before anything said here" in said


def test_what_was_read_in_excerpt_only_is_marked_so():
    published = [
        t.provenance for t in TREATMENTS.by_key.values() if t.provenance.mark is Mark.PUBLISHED
    ]
    assert len(published) > 15
    for provenance in published:
        assert provenance.read_words.count("(read: excerpt)") == len(provenance.sources)


def test_every_work_named_in_the_file_is_rested_on():
    used = set()
    for treatment in TREATMENTS.by_key.values():
        for entry in (treatment, *treatment.needs, *treatment.steps):
            used |= {source.key for source in entry.provenance.sources}
    own = {line[8:-1] for line in SHIPPED.splitlines() if line.startswith("[source.")}
    assert own <= used


def test_every_fact_that_is_asked_for_is_gathered_and_no_other():
    damage = at("joint-tender")
    gathered = facts_of(damage, (damage,), SOUND, KINDS, RULES)
    asked = {need.fact.key for t in TREATMENTS.by_key.values() for need in TREATMENTS.needs(t)}
    assert asked == set(TREATMENTS.facts) == set(gathered)


def test_ticks_of_a_treatment_are_words_of_the_survey():
    for treatment in TREATMENTS.by_key.values():
        assert set(treatment.ticks) | set(treatment.also) <= set(Harm)
        assert bool(treatment.parts) <= bool(treatment.ticks or treatment.also)


def test_a_damage_that_cannot_be_is_refused_before_anything_is_proposed():
    with pytest.raises(EntryError, match="measure both again"):
        one(at("cap-lost", along=201))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('term = "leave"', 'term = "laeve"', "laeve"),
        ('fact = "goes_on"', 'fact = "goes_off"', "goes_off"),
        ("is = false\nrefused", "refused", "compares nothing"),
        ('at_most = "mull-torn-share"', 'at_most = "mull-share"', "mull-share"),
        ('of = ["hole"]', 'of = ["whole"]', "whole"),
        ('parts = ["hinge-tissue"]', 'parts = ["hinge-paper"]', "hinge-paper"),
        ('ticks = ["inner hinge cracked"]', 'ticks = ["inner hinge crakced"]', "crakced"),
        ('cautions = ["press"]', 'cautions = ["pres"]', "pres"),
        ('within = ["recase", "full-reback", "resew"]', 'within = ["recaes"]', "recaes"),
        ("treatment.headband", "treatment.head-band", "“headband”, which is no treatment"),
        ("dry_low = 2\n", "dry_low = 20\n", "runs backwards"),
        ('under = "press"\n', "", "under what"),
        ("[bar.wet]", "[bar.wt]", r"\[bar.wet\]"),
        ("undo = ", "undone = ", "lacks “undo”"),
    ],
)  # fmt: skip
def test_a_slip_among_the_treatments_is_named(tmp_path, old, new, said):
    assert old in SHIPPED
    file = tmp_path / "treatments.toml"
    file.write_text(SHIPPED.replace(old, new), "utf-8")
    with pytest.raises(RulesError, match=said) as raised:
        load_treatments(file)
    assert "treatments.toml, line" in str(raised.value)
