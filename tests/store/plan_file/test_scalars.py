"""Kinds of values."""

from hypothesis import given
from hypothesis import strategies as st

from copydesk.store.plan_file.scalars import numbers
from copydesk.store.plan_file.yaml_places import Scalar


@given(st.sets(st.integers(1, 300), min_size=1, max_size=8))
def test_numbers_read_back_however_they_are_grouped(wanted):
    one_by_one = ", ".join(map(str, sorted(wanted, reverse=True)))
    assert numbers().read(Scalar(one_by_one, False, 1, 1)) == tuple(sorted(wanted))
    spans = ",".join(f"{number}-{number + 2}" for number in wanted)
    read = numbers().read(Scalar(spans, False, 1, 1))
    assert isinstance(read, tuple)
    assert set(read) == {number + more for number in wanted for more in range(3)}
