"""Whether a lot may touch a book, for each use."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bindery_stock.errors import EntryError
from bindery_stock.trade import Evidence, Grade, Mark, Property, Use, shipped_rules, verdicts

TODAY = date(2025, 6, 1)


def by_use(item, today=TODAY):
    return {v.use: v for v in verdicts(item, today)}


def days_ago(days):
    return TODAY - timedelta(days=days)


def test_fresh_paste_of_known_ph_is_fit_to_mend_paper(jar):
    verdict = by_use(jar(made=TODAY, ph=7.0))[Use.MENDING]
    assert verdict.grade is Grade.SUITABLE
    assert verdict.lead.rule == "fit:wheat-starch-paste"
    assert verdict.lead.provenance.mark is Mark.COMMON


def test_paste_of_unknown_ph_is_used_with_care_on_paper(jar):
    assert by_use(jar(made=TODAY))[Use.MENDING].grade is Grade.CARE


def test_a_dispersion_of_unknown_ph_asks_for_a_strip(jar):
    verdict = by_use(jar(kind="acrylic-dispersion", bought=TODAY))[Use.TIPPING]
    assert verdict.grade is Grade.TEST
    assert "pH strip" in verdict.lead.would_change
    assert verdict.lead.test


def test_pva_is_not_for_mending_paper_and_is_for_boxes(jar):
    found = by_use(jar(kind="pva", bought=TODAY, ph=7))
    assert found[Use.MENDING].grade is Grade.NOT
    assert found[Use.BOX].grade is Grade.SUITABLE


@pytest.mark.parametrize(
    ("days", "word"),
    [(5, Grade.SUITABLE), (6, Grade.CARE), (7, Grade.CARE), (8, Grade.NOT)],
)
def test_paste_in_the_room_by_its_age(jar, days, word):
    # Rogerson, Book_Arts-L 1997: five to seven days at the longest once thinned.
    assert by_use(jar(made=days_ago(days), ph=7))[Use.SPINE_LINING].grade is word


@pytest.mark.parametrize(
    ("days", "word"),
    [(14, Grade.SUITABLE), (15, Grade.CARE), (20, Grade.CARE), (21, Grade.NOT)],
)
def test_paste_in_the_fridge_by_its_age(jar, days, word):
    # Morse, Abbey Newsletter 19(5), 1995: 20 days in the refrigerator.
    lot = jar(made=days_ago(days), storage="fridge", ph=7)
    assert by_use(lot)[Use.SPINE_LINING].grade is word


@pytest.mark.parametrize(
    ("bought", "fired"),
    [
        (date(2024, 6, 1), set()),  # twelve months to the day: common practice
        (date(2024, 5, 31), {"R43"}),
        (date(2023, 6, 1), {"R43"}),
        (date(2023, 5, 31), {"R43", "R43b"}),
    ],
)
def test_a_dispersion_by_its_age(jar, bought, fired):
    found = by_use(jar(kind="vae", bought=bought, ph=7))[Use.BOX].findings
    assert {f.rule for f in found} & {"R43", "R43b"} == fired


# Window 5.5 to 8.0 of the Canadian programme (Down et al. 1996), from memory.
@pytest.mark.parametrize(
    ("ph", "word"),
    [
        (4.99, Grade.NOT),
        (5.0, Grade.CARE),
        (5.49, Grade.CARE),
        (5.5, Grade.SUITABLE),
        (8.0, Grade.SUITABLE),
        (8.01, Grade.CARE),
    ],
)
def test_an_adhesive_by_the_ph_of_its_dry_film(jar, tested, ph, word):
    lot = jar(made=TODAY, properties=tested(film_ph=ph))
    assert by_use(lot)[Use.MENDING].grade is word


@pytest.mark.parametrize(("celsius", "told"), [(69.9, False), (70, False), (70.1, True)])
def test_overheated_hide_glue_is_told(jar, tested, celsius, told):
    # Handbook on protein glues: 50 to 60 °C; the alarm at 70 °C is proposed.
    lot = jar(kind="animal-glue", made=TODAY, properties=tested(heated_to=celsius))
    assert ("R60" in {f.rule for f in by_use(lot)[Use.HIDDEN].findings}) is told


@pytest.mark.parametrize(
    ("fact", "celsius", "told"),
    [
        ("store_temperature_low", 4.9, True),
        ("store_temperature_low", 5, False),
        ("store_temperature_high", 30, False),
        ("store_temperature_high", 30.1, True),
    ],
)
def test_a_dispersion_that_stood_too_cold_or_too_warm(jar, tested, fact, celsius, told):
    # 5 to 30 °C: common practice.
    lot = jar(kind="vae", bought=TODAY, ph=7, properties=tested(**{fact: celsius}))
    assert ("R42" in {f.rule for f in by_use(lot)[Use.BOX].findings}) is told


def test_a_frozen_dispersion_is_barred_from_every_use(jar):
    found = by_use(jar(kind="pva", bought=TODAY, frozen_once=True))
    assert {v.grade for v in found.values()} == {Grade.NOT}


def test_growth_in_fresh_paste_bars_it(jar, tested):
    found = by_use(jar(made=TODAY, ph=7, properties=tested(spoiled=True)))
    assert {v.grade for v in found.values()} == {Grade.NOT}


def test_a_jar_without_a_date_asks_for_one(jar):
    verdict = by_use(jar(ph=7))[Use.SPINE_LINING]
    assert verdict.grade is Grade.TEST
    assert "date on the jar" in verdict.lead.would_change


def test_a_class_nobody_described_cannot_be_told(jar):
    found = by_use(jar(kind="moon glue", made=TODAY))
    assert found[Use.MENDING].grade is Grade.TEST


def test_alcohol_with_water_in_it_is_not_for_leather(jar, tested):
    # Elwing, Conservation DistList 16:37, 2002; Kellar, Book_Arts-L 1996.
    kind = "hydroxypropyl-cellulose"
    for value, word in ((True, Grade.SUITABLE), (False, Grade.NOT)):
        lot = jar(kind=kind, made=TODAY, properties=tested(anhydrous=value))
        assert by_use(lot)[Use.LEATHER].grade is word
    assert by_use(jar(kind=kind, made=TODAY))[Use.LEATHER].grade is Grade.TEST


def test_a_verdict_says_what_it_rests_on(jar):
    film = Property(
        name="film_ph",
        value=4.2,
        evidence=Evidence.LABORATORY,
        on=date(2025, 5, 3),
        method="cold extract",
    )
    lead = by_use(jar(kind="vae", bought=TODAY, properties=(film,)))[Use.SPINE_LINING].lead
    assert "4.2, tested by a laboratory, cold extract, 3 May 2025" in lead.rests_on[0]


def test_stronger_evidence_counts_before_later(jar):
    said = Property(name="film_ph", value=7.0, evidence=Evidence.SUPPLIER, on=date(2025, 5, 3))
    measured = Property(name="film_ph", value=4.2, evidence=Evidence.BENCH, on=date(2024, 5, 3))
    for pair in ((said, measured), (measured, said)):
        lot = jar(kind="vae", bought=TODAY, properties=pair)
        assert by_use(lot)[Use.SPINE_LINING].grade is Grade.NOT


@pytest.mark.parametrize("ph", [-0.1, 14.1, float("nan"), float("inf")])
def test_a_ph_that_cannot_be_is_refused(jar, ph):
    with pytest.raises(EntryError, match="pH"):
        verdicts(jar(ph=ph), TODAY)


@given(
    kind=st.sampled_from(sorted(shipped_rules().adhesives)),
    age=st.integers(0, 3000),
    older=st.integers(0, 300),
    store=st.sampled_from(["room", "fridge", "shed"]),
)
def test_age_never_betters_a_verdict(jar, kind, age, older, store):
    words = list(Grade)

    def grades(days):
        day = days_ago(days)
        lot = jar(kind=kind, bought=day, opened=day, made=day, storage=store, ph=7.0)
        return [words.index(v.grade) for v in verdicts(lot, TODAY)]

    assert all(b >= a for a, b in zip(grades(age), grades(age + older), strict=True))


@given(kind=st.sampled_from(sorted(shipped_rules().adhesives)))
def test_every_verdict_has_a_reason_a_mark_and_a_way_to_change_it(jar, kind):
    for verdict in verdicts(jar(kind=kind), TODAY):
        assert verdict.lead.reason
        assert verdict.lead.would_change
        assert verdict.lead.provenance.words
        assert verdict.grade is not Grade.SUITABLE  # undated and untested never scores well
