"""Both halves of a mirror symmetric outline: which piece of edge is the image of which.

Plot: the image of every segment's middle falls on its partner -> where one half says in two segments what the
other says in one, the two become one -> where partners go both ways, joints follow, and each pair gives
relations. Circles have joints anywhere, so their centres and radii are mirrored instead.
"""

import numpy as np

from core.outline.chain import Chain
from core.outline.curve import Ints, distances_between, picked
from core.outline.outline import Outline
from core.regular.edge import Edge
from core.regular.frame import Frame
from core.regular.mirror import Axis, image_of
from core.regular.near import Candidate, circle_chains
from core.regular.relation import (
    Relations,
    equal_radii,
    mirror_bulge,
    mirror_bulge_along,
    mirror_centre_x,
    mirror_centre_y,
    mirror_x,
    mirror_y,
)
from core.regular.rule import Rule
from core.regular.solve import Values


def partners(frame: Frame, edge: Edge, axis: Axis) -> Ints:
    """(s,) the segment that the image of each one's middle falls on; of a circle itself."""
    rows = np.flatnonzero(~np.isin(frame.owner, circle_chains(frame)))
    partner = np.arange(len(frame.tails))
    partner[rows] = edge.nearest(image_of(picked(edge.segments, rows).midpoints(), axis))
    return partner


def evened(outline: Outline, axis: Axis) -> Outline:
    """The Outline with neighbours that are the image of one segment made one, in rising order."""
    while True:
        frame = Frame.of(outline)
        partner = partners(frame, Edge(frame), axis)
        pair = _twice_said(frame, partner)
        if pair is None:
            return outline
        chains = list(outline.chains)
        chains[int(frame.owner[pair])] = _merged(frame, pair, abs(float(frame.bulges[partner[pair]])))
        outline = Outline(tuple(chains), outline.faces, outline.doubt)


def _twice_said(frame: Frame, partner: Ints) -> int | None:
    """The first segment that has the same partner as the one that follows it."""
    circles = set(circle_chains(frame))
    for row in range(len(partner)):
        after = frame.after(row)
        count = int(np.count_nonzero(frame.owner == frame.owner[row]))
        if after in (None, row) or frame.owner[row] in circles or count < 3:
            continue
        if partner[row] == partner[after]:
            return row
    return None


def _merged(frame: Frame, row: int, bulge: float) -> Chain:
    """The Chain with a segment and the one after it made one, bulging as its partner does."""
    chain = frame.outline.chains[int(frame.owner[row])]
    at = row - int(np.flatnonzero(frame.owner == frame.owner[row])[0])
    points, bulges = chain.points, chain.bulges
    if at == len(bulges) - 1:  # over the ring's own start
        points, bulges, at = np.vstack((points[-2], points[:-1])), np.roll(bulges, 1), 0
    sense = float(np.sign(bulges[at] + bulges[at + 1]))
    joints = np.delete(points, at + 1, axis=0)
    merged = np.delete(bulges, at + 1)
    merged[at] = sense * bulge
    return Chain(joints, merged, chain.left, chain.right)


def halves(values: Values, axis: Axis) -> Candidate:
    """What makes both halves one; nothing, and infinitely far off, where they do not answer one another."""
    frame = values.frame
    edge = Edge(frame)
    relations, freed = _relations(values, edge, axis)
    image = image_of(edge.places, axis)
    partner = edge.nearest(image)
    off = distances_between(picked(edge.segments, partner), image)
    noise = np.hypot(frame.noise[edge.rows], frame.noise[partner])
    worst = int(np.argmax(off / noise))
    last = int(edge.rows[worst])
    rows = (*np.delete(np.arange(len(frame.tails)), last).tolist(), last)
    far, near = float(off[worst]), float(noise[worst])
    return Candidate(Rule.MIRROR, rows, far, near, tuple(relations), freed, is_vague=not relations)


def _relations(values: Values, edge: Edge, axis: Axis) -> tuple[list[Relations], tuple[int, ...]]:
    """The relations of all pairs, and the segments whose bulge they set free; none where halves differ."""
    frame = values.frame
    circles = circle_chains(frame)
    in_circle = np.isin(frame.owner, circles)
    rows = np.flatnonzero(~in_circle)
    rings = _circle_pairs(frame, circles, axis)
    partner = partners(frame, edge, axis)
    is_mutual = bool((partner[partner] == np.arange(len(partner))).all())
    if rings is None or not is_mutual or in_circle[partner[rows]].any():
        return [], ()
    joints, against = _joints(frame, rows, partner, axis)
    if joints is None:
        return [], ()
    lines = frame.is_line
    freed = tuple(row for row in rows.tolist() if lines[row] and not lines[partner[row]])
    return [
        *_joint_relations(values, joints),
        *_bulge_relations(values, rows, partner, against),
        *_circle_relations(values, rings),
    ], freed


def _joints(
    frame: Frame, rows: Ints, partner: Ints, axis: Axis
) -> tuple[dict[int, int] | None, dict[int, bool]]:
    """Which joint is whose image, or None where that is no clear answer; and which pairs run against."""
    image = image_of(frame.points, axis)
    found: dict[int, int] = {}
    against: dict[int, bool] = {}
    for row in rows.tolist():
        ends = int(frame.tails[row]), int(frame.heads[row])
        others = int(frame.tails[partner[row]]), int(frame.heads[partner[row]])
        across = sum(
            float(np.hypot(*(image[a] - frame.points[b]))) for a, b in zip(ends, others, strict=True)
        )
        turned = sum(
            float(np.hypot(*(image[a] - frame.points[b]))) for a, b in zip(ends, others[::-1], strict=True)
        )
        against[row] = turned <= across
        for joint, other in zip(ends, others[::-1] if against[row] else others, strict=True):
            if found.setdefault(joint, other) != other:
                return None, against
    is_mutual = all(found.get(other) == joint for joint, other in found.items())
    return (found if is_mutual else None), against


def _joint_relations(values: Values, joints: dict[int, int]) -> list[Relations]:
    pairs = np.array([(one, other) for one, other in sorted(joints.items()) if one <= other], dtype=np.int64)
    if not len(pairs):
        return []
    where = np.hstack((values.joint(pairs[:, 0]), values.joint(pairs[:, 1]), values.axis(len(pairs))))
    return [Relations(mirror_x, where), Relations(mirror_y, where)]


def _bulge_relations(values: Values, rows: Ints, partner: Ints, against: dict[int, bool]) -> list[Relations]:
    found = []
    for says, wanted in ((mirror_bulge, True), (mirror_bulge_along, False)):
        pairs = [row for row in rows.tolist() if row < partner[row] and against[row] is wanted]
        if pairs:
            one = np.array(pairs)
            found.append(Relations(says, np.hstack((values.segment(one), values.segment(partner[one])))))
    return found


def _circle_pairs(frame: Frame, circles: list[int], axis: Axis) -> list[tuple[int, int]] | None:
    """The first segments of circles that are each other's image, or one's own; None where one has none."""
    firsts = [int(np.flatnonzero(frame.owner == index)[0]) for index in circles]
    if not firsts:
        return []
    own = picked(frame.segments(), np.array(firsts))
    centres, radii = own.centres(), own.radii()
    image = image_of(centres, axis)
    apart = np.hypot(*np.moveaxis(image[:, None] - centres[None], -1, 0)) + np.abs(
        radii[:, None] - radii[None]
    )
    partner = apart.argmin(axis=1)
    if not (partner[partner] == np.arange(len(partner))).all():
        return None
    return [(firsts[k], firsts[int(partner[k])]) for k in range(len(firsts)) if k <= partner[k]]


def _circle_relations(values: Values, rings: list[tuple[int, int]]) -> list[Relations]:
    if not rings:
        return []
    pairs = np.array(rings)
    both = np.hstack((values.segment(pairs[:, 0]), values.segment(pairs[:, 1])))
    where = np.hstack((both, values.axis(len(pairs))))
    found = [Relations(mirror_centre_x, where), Relations(mirror_centre_y, where)]
    two = pairs[:, 0] != pairs[:, 1]
    return [*found, Relations(equal_radii, both[two])] if two.any() else found
