"""One glossary for damage, places and treatments; a slip in its file is named."""

import pytest

from bindery_stock.errors import RulesError
from bindery_stock.places import resources
from bindery_stock.trade.book_places import BookPlace
from bindery_stock.trade.damage_entries import shipped_damages
from bindery_stock.trade.glossary import load_glossary, shipped_glossary
from bindery_stock.trade.provenance import Mark
from bindery_stock.trade.treatment_entries import shipped_treatments

SHIPPED = (resources() / "glossary.toml").read_text("utf-8")
TERMS = shipped_glossary().terms


@pytest.mark.parametrize("place", list(BookPlace))
def test_every_place_has_its_words_in_the_glossary(place):
    assert TERMS[place.value].help.endswith(".")


def test_every_damage_and_every_treatment_is_worded_by_the_glossary():
    worded = [*shipped_damages().by_key.values(), *shipped_treatments().by_key.values()]
    assert len(worded) > 50
    for entry in worded:
        assert entry.term is TERMS[entry.term.key]


def test_every_term_has_one_line_of_help_and_says_where_it_is_from():
    for term in TERMS.values():
        assert "\n" not in term.help
        assert term.provenance.sources or term.provenance.mark is not Mark.PUBLISHED


def test_what_was_read_in_excerpt_says_so():
    published = [t for t in TERMS.values() if t.provenance.mark is Mark.PUBLISHED]
    assert published
    for term in published:
        assert "(read: excerpt)" in term.provenance.read_words


# Term pairs: Independent Online Booksellers Association (mull), Alaska State Library 1995
# (section), International League of Antiquarian Booksellers (joint outside, hinge inside); all
# read in excerpt.
@pytest.mark.parametrize(
    ("american", "british"),
    [
        ("super", "mull"),
        ("crash", "mull"),
        ("signature", "section"),
        ("front outer hinge", "upper joint"),
        ("recase with spine repair", "full reback"),
        ("Spine Repair", "partial reback"),
    ],
)
def test_an_american_word_leads_to_the_british_one(american, british):
    assert [term.british for term in shipped_glossary().meaning(american)] == [british]


def test_a_term_shows_both_words_where_they_differ():
    assert TERMS["mull"].both == "mull (US: super, crash)"
    assert TERMS["shoulder"].both == "shoulder"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            'british = "mull"',
            'british = "text block"',
            "tell them apart",
        ),
        ('british = "mull"', 'brittish = "mull"', "lacks “british”"),
        ('american = ["super", "crash"]', 'american = ["mull"]', "repeats the British word"),
        ("[term.mull]", "[word.mull]", "no section “word”"),
        ("[term.mull]", "[term.mull", r"line \d+"),
        ('sources = ["ioba"]', 'sources = ["nobody"]', r"\[source.nobody\]"),
        ('sources = ["ioba"]', "", "names no source"),
        (
            'help = "The sewn leaves',
            f'help = "{"The sewn leaves and more " * 5}',
            "longer than one line",
        ),
        ('help = "The sewn leaves with', 'hlep = "The sewn leaves with', "lacks “help”"),
    ],
)
def test_a_slip_in_the_glossary_is_named(tmp_path, old, new, said):
    assert old in SHIPPED
    file = tmp_path / "glossary.toml"
    file.write_text(SHIPPED.replace(old, new, 1), "utf-8")
    with pytest.raises(RulesError, match=said) as raised:
        load_glossary(file)
    assert "glossary.toml, line" in str(raised.value)


def test_a_term_that_is_not_there_is_named():
    with pytest.raises(RulesError, match="no-such-word"):
        shipped_glossary()["no-such-word"]
