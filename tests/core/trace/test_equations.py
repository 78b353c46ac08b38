"""Equations in groups, small ones stacked and large ones in bands, against the plain dense answer."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.trace.equations import SIZES, laid_out, solved


def dense(count, links, products):
    square = np.zeros((count, count))
    for row, product in zip(links, products, strict=True):
        there = np.nonzero(row >= 0)[0]
        square[np.ix_(row[there], row[there])] += product[np.ix_(there, there)]
    return square + np.eye(count)


def filled(layout, links, products, count):
    rows, columns = (np.broadcast_to(side, products.shape) for side in (links[:, :, None], links[:, None, :]))
    address = layout.addresses(rows.ravel(), columns.ravel())
    store = np.bincount(address, weights=products.ravel(), minlength=layout.size + 1)
    every = np.arange(count)
    np.add.at(store, layout.addresses(every, every), 1.0)
    return store[:-1]


def rows_of(rng, lengths, is_ring):
    """Chains of unknowns that each share equations with the next two, and what they share."""
    rows, first = [], 0
    for length in lengths:
        at = np.arange(length)
        steps = np.stack((at, at + 1, at + 2), axis=1)
        steps = steps % length if is_ring else np.where(steps < length, steps, -1 - first)
        rows.append(steps + first)
        first += length
    links = np.vstack(rows)
    change = rng.normal(size=links.shape)
    return first, links, change[:, :, None] * change[:, None, :]


@settings(max_examples=12, deadline=None)
@given(
    lengths=st.lists(st.integers(3, 3 * SIZES[-1]), min_size=1, max_size=4),
    is_ring=st.booleans(),
    seed=st.integers(0, 99),
)
def test_groups_of_any_size_get_the_answer_of_one_big_square(lengths, is_ring, seed):
    rng = np.random.default_rng(seed)
    count, links, products = rows_of(rng, lengths, is_ring)
    layout, right = laid_out(count, links), rng.normal(size=count)
    every = np.ones(int(layout.group.max()) + 1, dtype=bool)
    found = solved(layout, filled(layout, links, products, count), right, every)
    np.testing.assert_allclose(found, np.linalg.solve(dense(count, links, products), right), atol=1e-9)


def test_only_the_groups_asked_for_are_answered():
    rng = np.random.default_rng(1)
    count, links, products = rows_of(rng, [8, 200], False)
    layout = laid_out(count, links)
    store = filled(layout, links, products, count)
    found = solved(layout, store, np.ones(count), layout.group[[0, 100]] != layout.group[100])
    assert found[:8].all()
    assert not found[8:].any()


@pytest.mark.parametrize("length", [10, 200])
def test_a_group_with_something_infinite_in_it_stays_where_it_is(length):
    rng = np.random.default_rng(2)
    count, links, products = rows_of(rng, [length, 20], False)
    layout = laid_out(count, links)
    store = filled(layout, links, products, count)
    store[layout.addresses(np.array([0]), np.array([0]))] = np.inf
    found = solved(layout, store, np.ones(count), np.ones(2, dtype=bool))
    assert not found[:length].any()
    assert found[length:].all()
