"""The nest board's program, and the part as it is cut laid in the pocket as it is read back.

1. The program keeps every rule of safe motion, for a board whose top is Z 0.
2. The pocket at its full depth takes the part with the stated clearance all round; its pins stand where the
   films have their rings.
3. The part is held: moved a little farther than the stated play, in whatever direction of x, y and turn,
   some of it meets a wall.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.program.read.program import Program
from core.proof.claims import Claims, NestClaim
from core.proof.copies import Motion
from core.proof.correction import undone_program
from core.proof.lap import round_findings
from core.proof.limits import Limits, RulesReport
from core.proof.marks import bored_mark_error, mark_findings
from core.proof.readback import EDGE_WITHIN, breach
from core.proof.removal import swept_below
from core.proof.rules import judge

Points = NDArray[np.float64]

#: rpm: the spindle stays off on a lap.
NO_SPINDLE = 0.0
#: mm above the board from which a ramp may begin.
RAMP_FROM = 0.2
#: Directions of x, y and turn in which a part is moved against its walls.
DIRECTIONS = 150
#: How much farther than the stated play a part is moved, as a share and in mm: arcs are met a little later
#: than their tangents.
BEYOND_SHARE, BEYOND_MM = 0.15, 0.03
#: mm2 of the part that a wall takes when it stops it; less is the last digit of two flattened edges.
MET = 1e-4


@dataclass(frozen=True)
class NestProof:
    """mark_error_mm of the pins, the rules that were looked at, and what was found."""

    mark_error_mm: float
    rules: RulesReport
    findings: tuple[Finding, ...]


def prove_nest(
    program: Program, path: str, claims: Claims, left: BaseGeometry, motions: tuple[Motion, ...]
) -> NestProof:
    """left: the first copy's part as its program leaves it, in the frame; motions: where the copies lie."""
    claim = claims.nest
    assert claim is not None  # noqa: S101 - the caller has a nest to prove
    rules = judge(program, nest_limits(claims, claim))
    program = undone_program(program, claims.router)
    pocket = in_frame(swept_below(program, claim.bit_mm, -claim.pocket_depth_mm), claim)
    holes = in_frame(swept_below(program, claim.bit_mm, -claim.mark_depth_mm), claim)
    pins = bored_mark_error(holes, [mark for mark in claims.marks if mark.kind == "blind"])
    laid = [finding for motion in motions for finding in _laid(path, motion.area(left), pocket, claim)]
    return NestProof(pins, rules, (*mark_findings(path, pins), *laid))


def prove_nest_lap(lap: Program, path: str, board: Program, claims: Claims) -> NestProof:
    """The clearance lap of the board against its own rules, and against what the board's program sweeps."""
    claim = claims.nest
    assert claim is not None  # noqa: S101 - the caller has a nest to prove
    limits = replace(
        nest_limits(claims, claim),
        bottom_z_mm=claim.safe_z_mm,
        spindle_rpm=NO_SPINDLE,
        feed_mm_min=None,
        plunge_mm_min=None,
    )
    rules = judge(lap, limits)
    lap, board = (undone_program(program, claims.router) for program in (lap, board))
    return NestProof(0.0, rules, round_findings(path, lap, board, claim.bit_mm))


def nest_limits(claims: Claims, claim: NestClaim) -> Limits:
    """What the program of the board is held to."""
    machine = claims.machine
    return Limits(
        safe_z_mm=claim.safe_z_mm,
        stock_top_z_mm=0.0,
        bottom_z_mm=-max(claim.pocket_depth_mm, claim.mark_depth_mm),
        travel_mm=machine.travel_mm,
        spindle_rpm=claim.spindle_rpm,
        spin_up_s=machine.spin_up_s,
        dwell_unit=machine.dwell_unit,
        feed_mm_min=claim.feed_mm_min,
        plunge_mm_min=claim.plunge_mm_min,
        bit_mm=claim.bit_mm,
        depth_per_pass_mm=claim.depth_per_pass_mm,
        ramp_above_mm=RAMP_FROM,
    )


def in_frame(area: BaseGeometry, claim: NestClaim) -> BaseGeometry:
    """What is counted from the board's zero, in the frame."""
    return shapely.transform(area, lambda points: np.add(points, claim.zero_at))


def _laid(path: str, part: BaseGeometry, pocket: BaseGeometry, claim: NestClaim) -> Iterator[Finding]:
    """Every piece of the part laid in the pocket: it goes in, and is held there where that is claimed."""
    for piece in shapely.get_parts(part):
        solid = shapely.Polygon(piece.exterior)
        near = solid.buffer(claim.clearance_mm - EDGE_WITHIN)
        if not pocket.covers(near):
            at = shapely.point_on_surface(near.difference(pocket))
            text = f"{path}: the part does not go into its pocket with {claim.clearance_mm:g} mm all round."
            yield breach("nest-interferes", text, (at.x, at.y))
        elif claim.play_mm is not None and (free := free_motion(solid, pocket, claim.play_mm)) is not None:
            at = solid.centroid
            text = (
                f"{path}: the part can move farther in its pocket than {claim.play_mm:.2f} mm, "
                f"towards {free[0]:.0f}°."
            )
            yield breach("nest-too-loose", text, (at.x, at.y))


def free_motion(solid: BaseGeometry, pocket: BaseGeometry, play_mm: float) -> tuple[float, float] | None:
    """A motion beyond the play that meets no wall: its heading and its turn, degrees; None when all do."""
    middle = np.array(shapely.box(*solid.bounds).centroid.coords[0])
    corners = shapely.get_coordinates(solid.convex_hull)
    reach = float(np.hypot(*(corners - middle).T).max())
    far = play_mm * (1.0 + BEYOND_SHARE) + BEYOND_MM
    shapely.prepare(pocket)
    arms = corners - middle
    for x, y, turn in _directions().tolist():
        moves = np.hypot(x - turn / reach * arms[:, 1], y + turn / reach * arms[:, 0])
        size = far / float(moves.max())
        motion = _Moved(middle, size * turn / reach, size * np.array([x, y]))
        if shapely.area(shapely.difference(shapely.transform(solid, motion.of), pocket)) < MET:
            return float(np.degrees(np.arctan2(y, x))), float(np.degrees(motion.angle))
    return None


@dataclass(frozen=True, eq=False)
class _Moved:
    """Turned by an angle, rad, about a middle, then shifted; mm."""

    middle: Points
    angle: float
    shift: Points

    def of(self, points: Points) -> Points:
        """(n, 2) mm, moved."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        turned = (points - self.middle) @ np.array([[c, s], [-s, c]])
        return np.asarray(turned + self.middle + self.shift)


def _directions() -> Points:
    """(DIRECTIONS, 3) of x, y and turn times reach, in rings from one pole of the sphere to the other."""
    rings = int(np.sqrt(DIRECTIONS * np.pi) / 2.0)
    found = []
    for ring in range(rings + 1):
        tilt = np.pi * ring / rings
        count = max(1, round(2.0 * rings * np.sin(tilt)))
        turns = 2.0 * np.pi * np.arange(count) / count
        flat = np.sin(tilt)
        found.append(
            np.column_stack((flat * np.cos(turns), flat * np.sin(turns), np.full(count, np.cos(tilt))))
        )
    return np.vstack(found)
