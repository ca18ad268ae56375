"""What `instead` answers, held against what practitioners accepted and refused.

These are the cases that the weights were once fitted to, so that the shares say how well the tables
keep what they were made from, and not how often they are right: on questions that nobody had looked
at, an accepted answer was among the first three in five to six cases of ten. Grades that a tyer can
catch out have been corrected since, and the weights not fitted again. The command
``python -m tests measure substitutions`` prints every case.
"""

import pytest

from tests.published.measure_substitutions import load, measure, shares

PEOPLE = pytest.mark.source("practitioners", "the page of each case")


@PEOPLE
def test_of_the_cases_the_weights_were_fitted_to_most_answers_are_found() -> None:
    """84 % found and 85 % of the refused kept out, disputed cases counted either way.

    It was 86 % while the tables called badger hair barred; shop-bought hair may be held (Act of
    1992, section 1(4)), so that it goes before bucktail in one case now.
    """
    cases = measure(load())
    answered, kept_out = shares(cases, disputed_met=True)
    assert len(cases) >= 50
    assert answered >= 0.83
    assert kept_out >= 0.84
