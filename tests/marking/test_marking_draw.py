"""Drawing a case: fixed by the secret and the student, fair, and different for everyone."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections import Counter
from collections.abc import Callable, Sequence

import pytest
from brakecourse.bench.situations import SHARES
from brakecourse.errors import CourseError
from brakecourse.marking import SealedCase, draw_sealed_case, seal, tolerances
from brakecourse.marking.basis import Basis, sealed
from brakecourse.marking.mistakes import mistakes
from brakecourse.marking.papers.m08_rotor_measurement.truth import draw
from scipy import stats

from tests.marking.rotor import rotor_of, thickness_mm

MODULE = "08_rotor_measurement"
SECRET = bytes(range(32))
Cases = Callable[[int], list[SealedCase]]


def test_the_same_draw_gives_the_same_case_and_another_one_another(case: SealedCase) -> None:
    assert draw_sealed_case(MODULE, "s01", SECRET) == case
    others = [
        draw_sealed_case(MODULE, "s02", SECRET),
        draw_sealed_case(MODULE, "s01", SECRET[::-1]),
        draw_sealed_case(MODULE, "s01", SECRET, attempt=2),
    ]
    for other in others:
        assert thickness_mm(other) != thickness_mm(case)


def test_the_seed_is_a_keyed_hash_of_who_and_what(many_cases: Cases) -> None:
    """Worked here with the standard library's HMAC-SHA256 (RFC 2104), not with the course's code."""
    for student, case in enumerate(many_cases(20)):
        message = json.dumps([f"student {student}", MODULE, 1, case.redraws]).encode()
        seed = int.from_bytes(hmac.new(SECRET, message, hashlib.sha256).digest(), "big")
        assert draw(seed, "normal", case.truth["situation"]) == rotor_of(case)


@pytest.mark.slow
def test_two_hundred_students_share_no_answers(many_cases: Cases) -> None:
    cases = many_cases(200)
    everything = {tuple(str(one.expected) for one in case.questions) for case in cases}
    readings = {case.question("8.1").expected for case in cases}  # type: ignore[union-attr]
    assert len(everything) == len(readings) == 200


@pytest.mark.slow
def test_situations_come_with_their_stated_shares(many_cases: Cases) -> None:
    """Chi-squared test (scipy) of 300 cases against the bench's stated shares, at one in a thousand."""
    seen = Counter(case.truth["situation"] for case in many_cases(300))
    shares = SHARES["normal"]
    assert set(seen) <= set(shares)
    observed = [seen[situation] for situation in shares]
    expected = [300 * share / sum(shares.values()) for share in shares.values()]
    assert stats.chisquare(observed, expected).pvalue > 0.001
    assert min(observed) > 0


@pytest.mark.slow
def test_no_named_mistake_gives_the_right_answer(many_cases: Cases) -> None:
    for case in many_cases(200):
        for question in case.questions:
            for mistake in question.mistakes:
                assert mistake.mistake in mistakes()
                if question.kind == "table":
                    assert mistake.place is not None and isinstance(mistake.value, float)
                    right = question.expected[mistake.place - 1]  # type: ignore[index]
                    assert abs(mistake.value - right) > 0.005
                else:
                    assert not sealed(question).is_right(mistake.value)


@pytest.mark.slow
def test_the_mistakes_that_must_show_always_show(many_cases: Cases) -> None:
    for case in many_cases(200):
        run_out = case.question("8.4")
        assert run_out is not None
        alone = sealed(run_out)
        for name in ("nuts_not_seated", "half_of_total"):
            values = [one.value for one in run_out.mistakes if one.mistake == name]
            assert values and not any(alone.is_right(value) for value in values)
        table = case.question("8.1")
        assert table is not None
        for place in range(1, 9):
            names = {one.mistake for one in table.mistakes if one.place == place}
            assert {"half_millimetre_line", "on_the_ridge"} <= names


def test_a_draw_where_a_mistake_is_right_is_repeated_in_the_same_situation(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    shows = seal._shows
    refused: list[str] = []

    def shows_not_at_first(right: Basis, wanted: Sequence[str]) -> bool:
        if len(refused) < 3:
            refused.append("once more")
            return False
        return shows(right, wanted)

    first = draw_sealed_case(MODULE, "s07", SECRET)
    monkeypatch.setattr(seal, "_shows", shows_not_at_first)
    again = draw_sealed_case(MODULE, "s07", SECRET)
    assert first.redraws == 0 and again.redraws >= 3
    assert again.truth["situation"] == first.truth["situation"]
    assert thickness_mm(again) != thickness_mm(first)


def test_a_draw_that_never_fits_ends_in_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(seal, "MOST_REDRAWS", 5)
    monkeypatch.setattr(seal, "_shows", lambda _right, _wanted: False)
    with pytest.raises(CourseError, match="5 draws for s07 in 08_rotor_measurement gave none"):
        draw_sealed_case(MODULE, "s07", SECRET)


@pytest.mark.slow
def test_gauges_never_stop_near_the_middle_of_two_lines(many_cases: Cases) -> None:
    """`tolerances.CLEAR_MM` rests on that."""
    for case in many_cases(200):
        rotor = rotor_of(case)
        for read in (*rotor.thickness, rotor.ridge, *rotor.dial_seated, *rotor.dial_loose):
            value = read.indication
            from_line = abs(value / 0.01 - round(value / 0.01)) * 0.01
            assert from_line <= 0.005 - tolerances.CLEAR_MM + 1e-9


def test_a_case_survives_its_file(case: SealedCase) -> None:
    text = case.model_dump_json()
    assert SealedCase.model_validate_json(text) == case
    assert SealedCase.model_validate(json.loads(text)) == case


@pytest.mark.parametrize(
    ("module", "student", "secret", "attempt", "sentence"),
    [
        ("99_clutch", "s01", SECRET, 1, "'99_clutch' was asked for"),
        (MODULE, "", SECRET, 1, "student's id was expected"),
        (MODULE, "  ", SECRET, 1, "student's id was expected"),
        (MODULE, None, SECRET, 1, "student's id was expected"),
        (MODULE, "s01", b"short", 1, "secret of at least 16 bytes"),
        (MODULE, "s01", "text, not bytes, but long enough", 1, "secret of at least 16 bytes"),
        (MODULE, "s01", SECRET, 0, "attempt of 1 or more"),
        (MODULE, "s01", SECRET, True, "attempt of 1 or more"),
        (MODULE, "s01", SECRET, 1.0, "attempt of 1 or more"),
    ],
)
def test_bad_arguments_are_refused_in_a_sentence(
    module: str, student: str, secret: bytes, attempt: int, sentence: str
) -> None:
    with pytest.raises(CourseError, match=sentence):
        draw_sealed_case(module, student, secret, attempt)
