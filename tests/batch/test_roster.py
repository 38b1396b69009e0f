"""The roster: who is found on it, who is missing, and what is wrong with a file that is none."""

from __future__ import annotations

from datetime import datetime

import pytest

from checker.batch import SourceError, Submission, read_roster

ROSTER = b"""identifier,name,deadline,handed in
40101,Ada Abara,2026-03-02 18:00,
s40102,Ben,2026-03-09T18:00:00,2026-03-10
40103,Twin,,
40104,Twin,,
"""


@pytest.mark.parametrize(
    ("submission", "number"),
    [
        (Submission(name="someone", identifier="40101", file="x.legs"), 0),
        (Submission(name="ada  ABARA", file="x.legs"), 0),
        (Submission(name="Ada", file="lab_40101_mister.legs"), 0),
        (Submission(name="x", file="S40102/list.legs"), 1),
        (Submission(name="Twin", file="x.legs"), None),
        (Submission(name="Twin", identifier="40104", file="x.legs"), 3),
        (Submission(name="x", file="401010.legs"), None),
    ],
)
def test_a_person_is_found_by_identifier_by_name_or_by_a_word_of_the_file(submission: Submission, number: int | None) -> None:
    assert number == read_roster(ROSTER, "r.csv").find(submission)


def test_times_are_read() -> None:
    ada, ben, *_ = read_roster(ROSTER, "r.csv").entries

    assert (datetime(2026, 3, 2, 18), None) == (ada.deadline, ada.handed_in)
    assert (datetime(2026, 3, 9, 18), datetime(2026, 3, 10)) == (ben.deadline, ben.handed_in)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"name\nAda\n", "r.csv: the first line has no column 'identifier'; allowed beside it: name, deadline, handed in"),
        (b"identifier,name\n,Ada\n", "r.csv, line 2, field identifier: it is empty"),
        (b"identifier\n1\n1\n", "r.csv: the identifier '1' is there twice"),
        (b"identifier,deadline\n1,soon\n", "r.csv, line 2, field deadline: 'soon' is no time; allowed: 2026-03-02 18:00"),
        (b"", "r.csv: the first line has no column 'identifier'; allowed beside it: name, deadline, handed in"),
    ],
)
def test_what_is_no_roster_says_why(data: bytes, said: str) -> None:
    with pytest.raises(SourceError) as problem:
        read_roster(data, "r.csv")

    assert said == str(problem.value)
