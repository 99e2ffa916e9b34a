// Numbers of the air in bulk: 10,000 elements through `preen calc` from the shell, and the single computations inside.
// Peers: Node reading and writing the same JSON without computing; the bare formula of the wind triangle without its
// checks and exact directions.
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { geodesicBetween } from "../src/core/air/geodesic.ts";
import { magneticField } from "../src/core/air/magnetic-field.ts";
import { windTriangle } from "../src/core/air/wind.ts";
import { studentInterval } from "../src/core/level/student-t.ts";
import { inUnit } from "../src/core/quantity/units.ts";
import type { Bench, Row, Size } from "./rows.ts";

const launcher = join(import.meta.dirname, "..", "bin", "preen.mjs");

const bench: Bench = async (size) => [
  inBulk(
    size,
    "air",
    (index) => ({ elevation_ft: index % 9000, qnh_hPa: 980 + (index % 60), oat_C: index % 40 }),
    500,
  ),
  inBulk(
    size,
    "wind",
    (index) => ({ track_deg: index % 360, tas_kt: 130, windFrom_deg: 250, wind_kt: index % 60 }),
    500,
  ),
  triangles(size),
  single(
    size,
    "magnetic field",
    (index) =>
      magneticField({ lat_deg: (index % 179) - 89, lon_deg: index % 360 }, inUnit(0, "m"), 2026).totalNt,
  ),
  single(
    size,
    "geodesic",
    (index) =>
      geodesicBetween({ lat_deg: 70.2, lon_deg: 12.5 }, { lat_deg: (index % 89) + 0.5, lon_deg: index % 90 })
        .distance,
  ),
  single(size, "Student's t for an interval", (index) => studentInterval(0.95, 1 + (index % 60))),
];

export default bench;

/** Many elements through the command, launcher included. */
function inBulk(size: Size, topic: string, element: (index: number) => object, budget: number): Row {
  const count = size === "tiny" ? 10 : 10_000;
  const input = JSON.stringify(Array.from({ length: count }, (_, index) => element(index)));
  const ask = (words: readonly string[]): number => {
    const began = performance.now();
    const { status, stdout } = spawnSync(process.execPath, words, {
      input,
      encoding: "utf8",
      maxBuffer: 1e8,
    });
    const took = performance.now() - began;
    const results = JSON.parse(stdout) as { error?: unknown }[];
    if (status !== 0 || results.length !== count || results.some((result) => result.error !== undefined)) {
      throw new Error(`node ${words[0]} … ended with code ${status} and ${results.length} results`);
    }
    return took;
  };
  const copy =
    'const t=require("fs").readFileSync(0,"utf8");process.stdout.write(JSON.stringify(JSON.parse(t)))';
  const times = size === "tiny" ? 1 : 5;
  const least = (words: readonly string[]): number =>
    Math.min(...Array.from({ length: times }, () => ask(words)));
  return {
    name: `preen calc ${topic}, ${count.toLocaleString("en")} elements`,
    value: least([launcher, "calc", topic]),
    unit: "ms",
    budget,
    better: "lower",
    peer: { name: "Node copying the JSON", value: least(["-e", copy]) },
  };
}

function triangles(size: Size): Row {
  const airspeed = inUnit(67, "ms");
  const ours = (index: number): number => {
    const wind = { from: inUnit((index * 7) % 360, "deg"), speed: inUnit(index % 30, "ms") };
    const solved = windTriangle(inUnit(index % 360, "deg"), airspeed, wind);
    if (solved.kind !== "solved") throw new Error(solved.why);
    return solved.groundSpeed;
  };
  const bare = (index: number): number => {
    const angle = ((((index * 7) % 360) - (index % 360)) * Math.PI) / 180;
    const speed = index % 30;
    return 67 * Math.cos(Math.asin((speed * Math.sin(angle)) / 67)) - speed * Math.cos(angle);
  };
  for (let index = 0; index < 1000; index += 1) {
    if (Math.abs(ours(index) - bare(index)) > 1e-9) throw new Error(`the triangles of ${index} differ`);
  }
  return {
    ...single(size, "wind triangle", ours),
    peer: { name: "bare formula", value: microseconds(size, bare) },
  };
}

function single(size: Size, name: string, compute: (index: number) => number): Row {
  return { name, value: microseconds(size, compute), unit: "µs", better: "lower" };
}

/** Mean time of one computation, the least of five passes after a warm-up. */
function microseconds(size: Size, compute: (index: number) => number): number {
  const count = size === "tiny" ? 100 : 20_000;
  let sink = 0;
  const pass = (): number => {
    const began = performance.now();
    for (let index = 0; index < count; index += 1) sink += compute(index);
    return ((performance.now() - began) * 1000) / count;
  };
  pass();
  const least = Math.min(...Array.from({ length: 5 }, pass));
  // The sum is used, so that no pass can be left out as pointless.
  if (!Number.isFinite(sink)) throw new Error("a computation came out as no number");
  return least;
}
