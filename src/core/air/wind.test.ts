import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Degrees, inUnit, type MetresPerSecond } from "../quantity/units.ts";
import { turn } from "./degrees.ts";
import {
  equalTimePoint,
  radiusOfAction,
  trackMadeGood,
  turningPoint,
  type Triangle,
  type Wind,
  windComponents,
  windFromTrack,
  windTriangle,
  worstWind,
} from "./wind.ts";

const deg = (value: number): Degrees => inUnit(value, "deg");
const speed = (value: number): MetresPerSecond => inUnit(value, "ms");
const directions = fc.double({ min: 0, max: 360, noNaN: true }).map(deg);
const airspeeds = fc.double({ min: 20, max: 90, noNaN: true }).map(speed);
const winds = fc.record({ from: directions, speed: fc.double({ min: 0, max: 19, noNaN: true }).map(speed) });
const calm: Wind = { from: deg(0), speed: speed(0) };

function solved(track: Degrees, airspeed: MetresPerSecond, wind: Wind): Triangle {
  const triangle = windTriangle(track, airspeed, wind);
  if (triangle.kind !== "solved") throw new Error(triangle.why);
  return triangle;
}

describe("the wind triangle", () => {
  test("closes: its heading makes the track good, and heading and track give the wind back", () => {
    fc.assert(
      fc.property(directions, airspeeds, winds, (track, airspeed, wind) => {
        const { heading, groundSpeed } = solved(track, airspeed, wind);
        const made = trackMadeGood(heading, airspeed, wind);
        expect(turn((made?.track ?? Number.NaN) - track)).toBeCloseTo(0, 6);
        expect(made?.groundSpeed).toBeCloseTo(groundSpeed, 9);
        const found = windFromTrack(heading, airspeed, track, groundSpeed);
        expect(found.speed).toBeCloseTo(wind.speed, 9);
        if (wind.speed > 0.1) expect(turn(found.from - wind.from)).toBeCloseTo(0, 5);
      }),
      { numRuns: 500 },
    );
  });

  test("without wind is the track itself", () => {
    expect(solved(deg(123), speed(50), calm)).toEqual({
      kind: "solved",
      heading: 123,
      groundSpeed: 50,
      drift: 0,
      components: { head: 0, cross: 0 },
    });
  });

  test("drifts away from the wind: from the left it drifts right, and the nose points left of the track", () => {
    const { drift, heading, components } = solved(deg(90), speed(60), { from: deg(45), speed: speed(10) });
    expect(drift).toBeGreaterThan(0);
    expect(heading).toBeLessThan(90);
    expect(components.cross).toBeLessThan(0);
    expect(components.head).toBeGreaterThan(0);
  });

  test("is the same turned round: all directions by the same angle, or mirrored left for right", () => {
    fc.assert(
      fc.property(directions, airspeeds, winds, directions, (track, airspeed, wind, by) => {
        const plain = solved(track, airspeed, wind);
        const turned = solved(deg(track + by), airspeed, { ...wind, from: deg(wind.from + by) });
        expect(turned.groundSpeed).toBeCloseTo(plain.groundSpeed, 9);
        expect(turned.drift).toBeCloseTo(plain.drift, 6);
        const mirrored = solved(deg(360 - track), airspeed, { ...wind, from: deg(360 - wind.from) });
        expect(mirrored.groundSpeed).toBeCloseTo(plain.groundSpeed, 9);
        expect(mirrored.drift).toBeCloseTo(0 - plain.drift, 6);
      }),
      { numRuns: 300 },
    );
  });

  test("a stronger headwind never makes it faster", () => {
    fc.assert(
      fc.property(
        airspeeds,
        fc.double({ min: -80, max: 80, noNaN: true }),
        fc.double({ min: 0, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 9, noNaN: true }),
        (airspeed, from, a, more) => {
          const weak = solved(deg(0), airspeed, { from: deg(from), speed: speed(a) });
          const strong = solved(deg(0), airspeed, { from: deg(from), speed: speed(a + more) });
          expect(strong.groundSpeed).toBeLessThanOrEqual(weak.groundSpeed + 1e-9);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("is impossible when the wind across is above the airspeed, or the wind ahead as strong", () => {
    const across = windTriangle(deg(0), speed(20), { from: deg(90), speed: speed(20.1) });
    expect(across).toMatchObject({
      kind: "impossible",
      why: "crosswindAboveAirspeed",
      components: { cross: 20.1 },
    });
    const ahead = windTriangle(deg(0), speed(20), { from: deg(0), speed: speed(20) });
    expect(ahead).toMatchObject({ kind: "impossible", why: "noGroundSpeed" });
  });

  test("on the limit is possible: the nose square to the track, carried by the wind alone", () => {
    // 30° behind abeam at twice 20: sine part 20·(2/√3)·cos 30° = 20 across, 20·(2/√3)·sin 30° behind.
    const limit = windTriangle(deg(0), speed(20), { from: deg(120), speed: speed((20 * 2) / Math.sqrt(3)) });
    expect(limit).toMatchObject({ kind: "solved", drift: expect.closeTo(-90, 3) as number });
    if (limit.kind === "solved") expect(limit.groundSpeed).toBeCloseTo(20 / Math.sqrt(3), 4);
  });

  test("stands still against a wind as strong as its airspeed", () => {
    expect(trackMadeGood(deg(40), speed(20), { from: deg(40), speed: speed(20) })).toBeNull();
  });
});

describe("wind components", () => {
  test("make up the wind, and change sides with the direction", () => {
    fc.assert(
      fc.property(directions, winds, (direction, wind) => {
        const { head, cross } = windComponents(direction, wind);
        expect(Math.hypot(head, cross)).toBeCloseTo(wind.speed, 9);
        const opposite = windComponents(deg(direction + 180), wind);
        expect(opposite.head).toBeCloseTo(0 - head, 9);
        expect(opposite.cross).toBeCloseTo(0 - cross, 9);
      }),
      { numRuns: 300 },
    );
  });

  test("are exact straight ahead, astern and abeam", () => {
    const at = (from: number): object => windComponents(deg(40), { from: deg(from), speed: speed(12) });
    expect([at(40), at(220), at(130), at(310)]).toEqual([
      { head: 12, cross: 0 },
      { head: -12, cross: 0 },
      { head: 0, cross: 12 },
      { head: 0, cross: -12 },
    ]);
  });
});

describe("the worst of a wind", () => {
  const steady = { from: deg(300), between: null, speed: speed(10), gust: null };

  test("of a steady one are its components, with none from the far side", () => {
    const worst = worstWind(deg(0), steady);
    expect(worst.head).toBeCloseTo(5, 9);
    expect(worst.fromLeft).toBeCloseTo(8.660254, 5);
    expect(worst.fromRight).toBe(0);
    expect(worst.tail).toBe(0);
  });

  test("counts gusts in full, and a variable wind from everywhere", () => {
    const gusting = worstWind(deg(0), { ...steady, gust: speed(16) });
    expect(gusting.head).toBeCloseTo(8, 9);
    expect(worstWind(deg(0), { ...steady, from: null, gust: speed(16) })).toEqual({
      head: 16,
      tail: 16,
      fromLeft: 16,
      fromRight: 16,
    });
  });

  test("of a sector is the worst direction in it, also across north", () => {
    const worst = worstWind(deg(0), { ...steady, from: deg(10), between: [deg(330), deg(60)] });
    expect(worst.head).toBe(10);
    expect(worst.fromLeft).toBeCloseTo(5, 9);
    expect(worst.fromRight).toBeCloseTo(8.660254, 5);
    expect(worst.tail).toBe(0);
    expect(worstWind(deg(0), { ...steady, from: null, between: [deg(80), deg(120)] }).fromRight).toBe(10);
  });

  test("is never better than any direction of its sector", () => {
    fc.assert(
      fc.property(
        directions,
        directions,
        fc.double({ min: 0, max: 359, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (direction, start, width, part) => {
          const inside = deg((start + width * part) % 360);
          const sector = [start, deg((start + width) % 360)] as const;
          const worst = worstWind(direction, { from: null, between: sector, speed: speed(10), gust: null });
          const { head, cross } = windComponents(direction, { from: inside, speed: speed(10) });
          expect(worst.head).toBeGreaterThanOrEqual(head - 1e-6);
          expect(worst.tail).toBeGreaterThanOrEqual(0 - head - 1e-6);
          expect(worst.fromRight).toBeGreaterThanOrEqual(cross - 1e-6);
          expect(worst.fromLeft).toBeGreaterThanOrEqual(0 - cross - 1e-6);
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe("radius of action", () => {
  const endurance = inUnit(7200, "s");

  test("is the distance from which the way back ends with the endurance", () => {
    fc.assert(
      fc.property(directions, airspeeds, winds, (track, airspeed, wind) => {
        const action = radiusOfAction(endurance, airspeed, track, wind);
        if (action.kind !== "solved") throw new Error(action.why);
        expect(action.turnAfter + action.radius / action.backSpeed).toBeCloseTo(endurance, 6);
        expect(action.radius).toBeCloseTo(action.turnAfter * action.outSpeed, 6);
      }),
      { numRuns: 300 },
    );
  });

  test("is shortened by any wind, from wherever", () => {
    fc.assert(
      fc.property(directions, airspeeds, winds, (track, airspeed, wind) => {
        const still = radiusOfAction(endurance, airspeed, track, calm);
        const blown = radiusOfAction(endurance, airspeed, track, wind);
        if (still.kind !== "solved" || blown.kind !== "solved") throw new Error("impossible");
        expect(blown.radius).toBeLessThanOrEqual(still.radius * (1 + 1e-12));
      }),
      { numRuns: 300 },
    );
  });

  test("says which leg the wind makes impossible", () => {
    const tail = { from: deg(180), speed: speed(30) };
    expect(radiusOfAction(endurance, speed(20), deg(0), tail)).toMatchObject({
      kind: "impossible",
      leg: "back",
    });
    expect(radiusOfAction(endurance, speed(20), deg(180), tail)).toMatchObject({
      kind: "impossible",
      leg: "out",
    });
  });

  test("of no endurance is none; the equal-time point lies between, nearer to the start with a wind behind", () => {
    expect(turningPoint(inUnit(0, "s"), speed(50), speed(50))).toEqual({ radius: 0, turnAfter: 0 });
    expect(equalTimePoint(inUnit(1000, "m"), speed(60), speed(40))).toBe(400);
  });
});

describe("the wind refuses, and names what", () => {
  const wind = { from: deg(0), speed: speed(10) };
  test.each([
    ["an airspeed of nothing", () => windTriangle(deg(0), speed(0), wind), "airspeed"],
    ["an airspeed that is no number", () => windTriangle(deg(0), speed(Number.NaN), wind), "airspeed"],
    ["a track that is no number", () => windTriangle(deg(Number.NaN), speed(20), wind), "track"],
    [
      "a wind direction without end",
      () => windTriangle(deg(0), speed(20), { ...wind, from: deg(Number.POSITIVE_INFINITY) }),
      "wind.from",
    ],
    ["a wind below calm", () => windComponents(deg(0), { ...wind, speed: speed(-1) }), "wind.speed"],
    ["a gust below calm", () => worstWind(deg(0), { ...wind, between: null, gust: speed(-1) }), "wind.gust"],
    ["an endurance below none", () => turningPoint(inUnit(-1, "s"), speed(20), speed(20)), "endurance"],
    ["a way back that stands still", () => turningPoint(inUnit(1, "s"), speed(20), speed(0)), "backSpeed"],
    ["a distance below none", () => equalTimePoint(inUnit(-1, "m"), speed(20), speed(20)), "distance"],
    ["a ground speed below none", () => windFromTrack(deg(0), speed(20), deg(0), speed(-1)), "groundSpeed"],
  ])("%s", (_, compute, path) => {
    expect(compute).toThrow(path);
  });
});
