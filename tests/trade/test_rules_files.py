"""The rules files: whole, sourced, and strict about mistakes."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from bindery_stock.errors import EntryError, RulesError
from bindery_stock.places import resources
from bindery_stock.trade import Evidence, Mark, Property, Use, load_rules, shipped_rules, verdicts
from bindery_stock.trade.vocabulary import Kind

RULES = shipped_rules()
ENTRIES = {
    f"{section}.{key}": entry
    for section in (
        "properties",
        "limits",
        "adhesives",
        "fits",
        "flags",
        "families",
        "hazards",
        "finds",
        "allowances",
        "parts",
        "hours",
    )
    for key, entry in getattr(RULES, section).items()
}


def test_the_shipped_rules_cover_the_bench():
    assert len(RULES.adhesives) == 25
    assert len(RULES.finds) >= 6
    assert set(RULES.fits) == set(RULES.adhesives)
    assert all(kind.value in RULES.uses for kind in Kind)


@pytest.mark.parametrize("name", sorted(ENTRIES))
def test_every_entry_has_a_source_or_says_that_it_has_none(name):
    provenance = ENTRIES[name].provenance
    assert provenance.origin is not None
    if provenance.mark in {Mark.PUBLISHED, Mark.STANDARD}:
        assert provenance.sources
    elif not provenance.sources:
        assert provenance.mark is Mark.COMPUTED or "no source" in provenance.mark.words


def test_every_life_has_its_mark_and_range():
    for kind in RULES.adhesives.values():
        for life in kind.lives:
            assert life.provenance.mark in Mark
            assert life.range_words


def test_every_published_limit_names_its_standard():
    for limit in RULES.limits.values():
        if limit.provenance.mark in {Mark.PUBLISHED, Mark.STANDARD}:
            assert limit.standard or limit.provenance.caveat


def test_every_source_is_used():
    used = {source.key for entry in ENTRIES.values() for source in entry.provenance.sources}
    used |= {
        source.key
        for kind in RULES.adhesives.values()
        for life in kind.lives
        for source in life.provenance.sources
    }
    assert used == set(RULES.sources)


def test_every_property_a_rule_may_find_wanting_has_a_test():
    for flag in RULES.flags.values():
        for condition in (*flag.every, *flag.some):
            kind = RULES.properties[condition.fact]
            assert kind.test or kind.key in {"water", "frozen_once"}


def own(tmp_path: Path, text: str) -> Path:
    file = tmp_path / "own.toml"
    file.write_text(text, encoding="utf-8")
    return file


GOOD_RULE = """
[rule.R90]
applies = ["kraft"]
all = [
  { fact = "ph", below = "paper-ph-low" },
]
no = ["spine lining"]
reason = "House rule."
would_change = "A strip."
mark = "own rule"
"""


def test_a_rule_of_ones_own_adds_to_the_shipped_ones(tmp_path, scrap):
    rules = load_rules(own(tmp_path, GOOD_RULE))
    strip = Property(name="ph", value=7.0, evidence=Evidence.BENCH)
    kraft = scrap(kind=Kind.KRAFT, properties=(strip,))
    lead = {v.use: v.lead for v in verdicts(kraft, date(2025, 6, 1), rules=rules)}[Use.SPINE_LINING]
    assert lead.rule == "R90"
    assert lead.provenance.origin is not None
    assert str(lead.provenance.origin) == "own.toml, line 2"
    assert lead.provenance.overrides is None


def test_a_rules_file_may_be_named_by_a_plain_text(tmp_path):
    file = own(tmp_path, GOOD_RULE)
    assert load_rules(str(file)).flags.keys() == load_rules(file).flags.keys()


def test_a_rule_of_ones_own_replaces_a_shipped_one_visibly(tmp_path):
    text = "[life.wheat-starch-paste-made-fridge]\n" + (
        'adhesive = "wheat-starch-paste"\nsince = "made"\nstore = "fridge"\ndays = 20\n'
        'mark = "own rule"\n'
    )
    rules = load_rules(own(tmp_path, text))
    lives = [
        life
        for life in rules.adhesives["wheat-starch-paste"].lives
        if life.key == "wheat-starch-paste-made-fridge"
    ]
    assert [life.days for life in lives] == [20]
    assert "lives.toml" in lives[0].provenance.words
    assert "own.toml, line 1" in lives[0].provenance.words
    assert rules.overridden["life.wheat-starch-paste-made-fridge"].file.name == "lives.toml"


def test_a_changed_limit_changes_the_rules_that_name_it(tmp_path, scrap):
    text = '[limit.board-ph-low]\nvalue = 8.0\nmark = "own rule"\n'
    strip = Property(name="ph", value=7.5, evidence=Evidence.BENCH)
    board = scrap(kind=Kind.BOARD, properties=(strip,))
    found = {
        v.use: v.lead.rule
        for v in verdicts(board, date(2025, 6, 1), rules=load_rules(own(tmp_path, text)))
    }
    assert found[Use.BOX] == "R17c"


@pytest.mark.parametrize(
    ("before", "after", "line", "said"),
    [
        ("[rule.R90]", "[rule.R90", 2, "not written as TOML"),
        ("[rule.R90]", "[rules.R90]", 2, "no section"),
        ('["kraft"]', '["krafts"]', 3, "no kind of stock"),
        ('["kraft"]', "[]", 3, "applies to nothing"),
        ('["kraft"]', '"kraft"', 3, "must be a list"),
        ('"ph", below', '"hp", below', 4, "no [property.hp]"),
        ('"paper-ph-low"', '"paper-ph"', 4, "no [limit.paper-ph]"),
        ('"paper-ph-low"', "true", 4, "number or the name of a limit"),
        ("below =", "under =", 4, "compares nothing"),
        ('"ph", below = "paper-ph-low"', '"mould", below = 3', 4, "as a number"),
        ('"ph", below = "paper-ph-low"', '"mould", is = "green"', 4, "cannot be"),
        ('"ph", below = "paper-ph-low"', '"brightener", is = "yes"', 4, "cannot be"),
        ('["spine lining"]', '["spine"]', 7, "is not one of"),
        ('no = ["spine lining"]', 'no = ["all"]\ncare = ["label"]', 7, "two verdicts"),
        ('no = ["spine lining"]', "", 2, "says nothing of any use"),
        ('reason = "House rule."', 'reason = ""', 8, "is empty"),
        ('reason = "House rule."', "reason = 3", 8, "must be a text"),
        ('would_change = "A strip."', "", 2, "lacks “would_change”"),
        ('would_change = "A strip."', 'wuold_change = "A strip."', 2, "lacks “would_change”"),
        ('"own rule"', '"hearsay"', 10, "is not one of"),
        ('"own rule"', '"published"', 10, "names no source"),
        ('mark = "own rule"', 'mark = "own rule"\nsources = ["nobody"]', 11, "no [source.nobody]"),
        ('mark = "own rule"', 'mark = "own rule"\nverdict = "good"', 11, "does not know"),
    ],
)
def test_a_mistake_is_named_with_its_file_and_line(tmp_path, before, after, line, said):
    assert before in GOOD_RULE
    with pytest.raises(RulesError) as caught:
        load_rules(own(tmp_path, GOOD_RULE.replace(before, after, 1)))
    assert str(caught.value).startswith(f"own.toml, line {line}: ")
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("rule = 3\n", 1, "must be written as"),
        ("[rule]\nR1 = 3\n", 2, "must be a table of its own"),
        ('[limit.x]\nvalue = "high"\nmark = "own rule"\n', 2, "must be a number"),
        ('[limit.x]\nvalue = nan\nmark = "own rule"\n', 2, "must lie between"),
        ('[life.x]\nadhesive = "glu"\nmark = "own rule"\n', 2, "no [adhesive.glu]"),
        ('[life.x]\nadhesive = "pva"\nsince = "made"\nmark = "own rule"\n', 1, "gives no time"),
        (
            '[life.x]\nadhesive = "pva"\nsince = "made"\ndays = -1\nmark = "own rule"\n',
            4,
            "between",
        ),
        (
            '[life.x]\nadhesive = "pva"\nsince = "made"\ndays = true\nmark = "own rule"\n',
            4,
            "whole number",
        ),
        ('[fit.x]\nno = ["label"]\nreason = "r"\nmark = "own rule"\n', 1, "no [adhesive.x]"),
        ('[kind.rope]\nuses = ["label"]\nmark = "own rule"\n', 1, "no kind of stock"),
    ],
)
def test_other_sections_are_as_strict(tmp_path, text, line, said):
    with pytest.raises(RulesError) as caught:
        load_rules(own(tmp_path, text))
    assert str(caught.value).startswith(f"own.toml, line {line}: ")
    assert said in str(caught.value)


def test_a_file_that_is_not_text_is_refused(tmp_path):
    file = tmp_path / "own.toml"
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(RulesError, match=r"own\.toml, line 1"):
        load_rules(file)


def test_a_missing_file_is_refused(tmp_path):
    with pytest.raises(RulesError, match=r"nowhere.toml, line 1.*cannot be read"):
        load_rules(tmp_path / "nowhere.toml")


def test_an_empty_folder_of_rules_is_refused(tmp_path):
    with pytest.raises(RulesError, match="no rules were found"):
        load_rules(shipped=tmp_path)


def test_the_shipped_folder_may_lie_anywhere(tmp_path):
    shutil.copytree(resources() / "rules", tmp_path / "rules")
    assert load_rules(shipped=tmp_path / "rules").flags.keys() == RULES.flags.keys()


def test_a_class_that_does_not_exist_is_named():
    with pytest.raises(EntryError, match="moon glue"):
        RULES.adhesive("moon glue")
