"""The handed-over element in two multi-body programs, beside the two-pin mechanism.

``python -m tests.handover.mechanisms`` prints both; a program that is not installed is left out
with a reason. The spring turns a lever: its torque at many angles, and the lever let go, whose
speed at every angle follows from the energy that the spring gave up.
"""

from __future__ import annotations

import math
import tempfile
from pathlib import Path

import numpy as np

from springgeo import Spring
from springgeo.fit import mechanism
from springgeo.handover import LoadTable
from springgeo.handover.write import text_of

FIXED, PINS, INERTIA = (0.0, -16.0), (5.0, 4.0), 2e-4  # mm, mm, kg m²
LEVER = mechanism.Lever(
    pivot=(0.0, 0.0), radius=16.0, start=math.radians(40), end=math.radians(-60)
)


def spring() -> Spring:
    return Spring.from_dict(
        {
            "name": "lever spring",
            "wire": {"material": "astm-a228", "diameter": 1.2},
            "body": {"mean_diameter": 9.6, "coils": 8, "initial_tension": 7},
            "ends": {"first": "machine-half-loop", "second": "machine-half-loop", "angle": 0},
            "service": {"loads": [45]},
        }
    )


def motion(s: Spring, stations: int = 121) -> mechanism.Motion:
    return mechanism.run(s.load_curve, FIXED, LEVER, pins=PINS, stations=stations)


def _element(s: Spring, ending: str, pins: tuple[float, float]) -> str:
    """Return what ``s.curve`` writes, from states that are known already."""
    return text_of(ending, s, LoadTable.of(s.load_curve, 45.0), pins)


_MODEL = """<mujoco>
  <option gravity="0 0 0" timestep="5e-5" integrator="RK4"/>
  <include file="element.xml"/>
  <worldbody>
    <site name="first_end" pos="{x:.9g} {y:.9g} 0"/>
    <body name="lever">
      <inertial pos="0 0 0" mass="0.1" diaginertia="{inertia} {inertia} {inertia}"/>
      <joint name="pivot" type="hinge" axis="0 0 1"/>
      <site name="second_end" pos="{radius:.9g} 0 0"/>
    </body>
  </worldbody>
</mujoco>"""


def by_mujoco(s: Spring, angles: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return torque at angles, N mm; then angles passed when let go, and speeds there, rad/s."""
    import mujoco

    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "element.xml").write_text(_element(s, ".xml", PINS))
        text = _MODEL.format(
            x=FIXED[0] / 1000, y=FIXED[1] / 1000, radius=LEVER.radius / 1000, inertia=INERTIA
        )
        (Path(folder) / "model.xml").write_text(text)
        model = mujoco.MjModel.from_xml_path(str(Path(folder) / "model.xml"))
    data = mujoco.MjData(model)
    torque = []
    for angle in angles:
        data.qpos[0] = angle
        mujoco.mj_forward(model, data)
        torque.append(1000 * data.qfrc_passive[0])
    mujoco.mj_resetData(model, data)
    data.qpos[0] = LEVER.start
    passed = []
    while data.qpos[0] > LEVER.end and data.time < 1:
        mujoco.mj_step(model, data)
        passed.append((data.qpos[0], data.qvel[0]))
    angle, speed = np.array(passed).T
    return np.array(torque), angle, speed


_LEVER = """
partial model Pins
  Real phi(start = {start:.12g}, fixed = true);
  Real apart;
  Real torque;
equation
  apart = sqrt(({r:.9g}*cos(phi) - ({x:.9g}))^2 + ({r:.9g}*sin(phi) - ({y:.9g}))^2);
  torque = LeverSpring.load(apart + {beside:.9g})*{r:.9g}*(({y:.9g})*cos(phi) - ({x:.9g})*sin(phi))
    /apart;
end Pins;

model Turned
  extends Pins;
equation
  der(phi) = {turn:.12g};
end Turned;

model LetGo
  extends Pins;
  Real w(start = 0, fixed = true);
equation
  der(phi) = w;
  {inertia}*der(w) = torque;
end LetGo;
"""


def by_rumoca(s: Spring, stations: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return torque at stations, N mm; then angles passed when let go, and speeds there, rad/s."""
    import rumoca

    text = _element(s, ".mo", (0.0, 0.0)) + _LEVER.format(
        start=LEVER.start,
        turn=LEVER.end - LEVER.start,
        r=LEVER.radius / 1000,
        x=FIXED[0] / 1000,
        y=FIXED[1] / 1000,
        beside=sum(PINS) / 2000,
        inertia=INERTIA,
    )
    session, config = rumoca.Session(), rumoca.SimConfig(rtol=1e-8, atol=1e-10)
    turned = session.loads(text, model="Turned", filename="lever.mo")
    slow = turned.simulate((0.0, 1.0), dt=1 / (stations - 1), config=config)
    let_go = session.loads(text, model="LetGo", filename="lever.mo")
    fast = let_go.simulate((0.0, 0.06), dt=2e-5, config=config)
    phi, w = np.array(fast["phi"]), np.array(fast["w"])
    inside = phi > LEVER.end
    return 1000 * np.array(slow["torque"])[:stations], phi[inside], w[inside]


def speeds(s: Spring, angles: np.ndarray) -> np.ndarray:
    """Return the speed of the lever let go at its start, by the energy given up, rad/s."""
    m = motion(s, 401)
    energy = np.interp(-angles, -m.drive, m.energy)  # the drive falls
    return -np.sqrt(np.maximum(2 * (m.energy[0] - energy) / 1000 / INERTIA, 0.0))


def off(theirs: np.ndarray, ours: np.ndarray) -> float:
    """Return the greatest difference as a share of what ours is there, of a tenth at least."""
    least = 0.1 * np.abs(ours).max()
    return float((np.abs(theirs - ours) / np.maximum(np.abs(ours), least)).max())


def compared_by_mujoco(s: Spring) -> tuple[float, float]:
    """Return how far torque and speed are off, as shares."""
    m = motion(s)
    torque, angle, speed = by_mujoco(s, m.drive)
    return off(torque, m.effort), off(speed, speeds(s, angle))


def compared_by_rumoca(s: Spring) -> tuple[float, float]:
    """Return how far torque and speed are off, as shares."""
    m = motion(s)
    torque, angle, speed = by_rumoca(s, len(m.drive))
    return off(torque, m.effort), off(speed, speeds(s, angle))


def main() -> None:
    s = spring()
    m = motion(s)
    print(
        f"lever spring: {m.length.min():.2f} to {m.length.max():.2f} mm, {m.load.min():.2f} to "
        f"{m.load.max():.2f} N, torque to {np.abs(m.effort).max():.1f} N mm"
    )
    for name, compared in (("MJCF", compared_by_mujoco), ("Modelica", compared_by_rumoca)):
        try:
            torque, speed = (100 * x for x in compared(s))
        except ImportError as exc:
            print(f"{name}: skipped, {exc}")
            continue
        print(f"{name}: torque within {torque:.3f} %, speed of the lever let go {speed:.3f} %")


if __name__ == "__main__":
    main()
