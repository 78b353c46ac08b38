"""Unions of faces of the Outline, made by dropping the Chains that lie inside them.

Chains with the set on one side only are kept, turned so that the set lies to their left, and linked end
to end; ends that meet are equal to the last bit. Where more than two meet in one node, each arriving
Chain takes the leftmost turn: it closes off the set's wedge between the two, so Loops touch there and
never cross. A run that comes by a node twice is then parted there, so that what touches the edge from
inside becomes an opening of its own. Points and bulges are those of the Chains; nothing is fitted again.
"""

from collections.abc import Set as AbstractSet

import numpy as np

from core.errors import BadShape
from core.outline.chain import Chain
from core.outline.loop import Loop
from core.outline.nest import nested
from core.outline.outline import Outline
from core.outline.region import Regions

Node = tuple[float, float]
Run = list[Chain]


def regions_of(outline: Outline, faces: AbstractSet[int]) -> Regions:
    """The union of these faces (indices), in the Outline's unit; BadShape if its Chains do not close."""
    kept = [
        _facing(chain, faces) for chain in outline.chains if (chain.left in faces) != (chain.right in faces)
    ]
    return nested(_loop(run) for run in _runs(kept))


def _facing(chain: Chain, faces: AbstractSet[int]) -> Chain:
    return chain if chain.left in faces else chain.reversed()


def _node(point: np.ndarray) -> Node:
    return float(point[0]) + 0.0, float(point[1]) + 0.0  # + 0.0: minus zero is the same node


def _runs(chains: list[Chain]) -> list[Run]:
    runs = [[chain] for chain in chains if chain.is_ring]
    open_ones = [chain for chain in chains if not chain.is_ring]
    follows = _followers(open_ones)
    seen: set[int] = set()
    for first in range(len(open_ones)):
        run: list[int] = []
        step = first
        while step not in seen:
            seen.add(step)
            run.append(step)
            step = follows[step]
        runs.extend(_parted([open_ones[index] for index in run]))
    return runs


def _followers(chains: list[Chain]) -> list[int]:
    arriving: dict[Node, list[int]] = {}
    leaving: dict[Node, list[int]] = {}
    for index, chain in enumerate(chains):
        leaving.setdefault(_node(chain.points[0]), []).append(index)
        arriving.setdefault(_node(chain.points[-1]), []).append(index)
    follows = [-1] * len(chains)
    for node, ins in arriving.items():
        outs = leaving.get(node, [])
        if len(ins) != len(outs):
            raise BadShape(f"the Chains that meet at {node} do not close")
        for index, follower in zip(ins, _leftmost(chains, node, ins, outs), strict=True):
            follows[index] = follower
    return follows


def _leftmost(chains: list[Chain], node: Node, ins: list[int], outs: list[int]) -> list[int]:
    """For each arriving Chain the leaving one with the leftmost turn."""
    if len(outs) == 1:
        return outs
    backs = [chains[index].segments().reversed() for index in ins]
    aheads = [chains[index].segments() for index in outs]
    # tangent ends part only further on: all are looked at the same short way from the node
    reach = 0.5 * min(float(each.lengths()[0]) for each in (*backs, *aheads))

    def direction(index: int) -> float:
        ends = [*backs, *aheads][index]
        share = np.minimum(reach / ends.lengths(), 1.0)
        x, y = ends.points_at(share)[0] - np.array(node)
        return float(np.arctan2(y, x))

    angles = [direction(index) for index in range(len(backs) + len(aheads))]
    chosen = []
    for back in angles[: len(backs)]:
        clockwise = [(back - ahead) % (2.0 * np.pi) for ahead in angles[len(backs) :]]
        chosen.append(outs[int(np.argmin(clockwise))])
    return chosen


def _parted(run: Run) -> list[Run]:
    """The run cut wherever it comes by a node again."""
    done: list[Run] = []
    path: Run = []
    begun: dict[Node, int] = {}
    for chain in run:
        begun[_node(chain.points[0])] = len(path)
        path.append(chain)
        end = _node(chain.points[-1])
        if end in begun:
            cut = begun[end]
            for dropped in path[cut:]:
                begun.pop(_node(dropped.points[0]))
            done.append(path[cut:])
            del path[cut:]
    return done


def _loop(run: Run) -> Loop:
    points = np.vstack([chain.points[:-1] for chain in run])
    return Loop(points, np.concatenate([chain.bulges for chain in run]))
