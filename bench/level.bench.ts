// Levels: the trend of one gauge over fourteen months, all gauges of a craft, and the screen's small pictures in a browser
// that is slowed down four times.
// Peer of the trend: the robust line of ml-regression-theil-sen 3.0.0 through the baseline's readings alone, which is one
// step of several in ours.
import { readFileSync } from "node:fs";
import { chromium, type Page } from "@playwright/test";
import { TheilSenRegression } from "ml-regression-theil-sen";
import { launchSettings } from "../e2e/harness/launch-settings.ts";
import { startPreen } from "../e2e/harness/preen-server.ts";
import type { CraftState } from "../src/core/facts/craft.ts";
import { craftLevels } from "../src/core/level/craft-levels.ts";
import { gaugeSeries, seriesFrame } from "../src/core/level/gauge-series.ts";
import { gaugeTrend, type GaugeTrend } from "../src/core/level/gauge-trend.ts";
import { at_h, craftWith, evenScatter, flight, reading } from "../src/core/level/tell-levels.ts";
import { smallPlot } from "../src/present/plots/level-plot.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import type { Bench, Row, Size } from "./rows.ts";

const sheet = JSON.parse(readFileSync(new URL("../demo/sheet/quill.json", import.meta.url), "utf8")) as Sheet;
const followed = sheet.gauges.filter(({ trend }) => trend !== undefined);
const until_ms = at_h(9_000);

/** Fourteen months: a flight of 0.9 h on most days, and each followed gauge read after it. */
function fourteenMonths(size: Size): CraftState {
  const days = size === "tiny" ? 120 : 560;
  const readings = followed.flatMap((gauge) => {
    const low = gauge.low?.value ?? gauge.band?.points[0]?.low ?? 0;
    const high = gauge.high?.value ?? gauge.band?.points[0]?.high ?? low + 10;
    return Array.from({ length: days }, (_, day) =>
      reading(1000 + day * 0.9, (low + high) / 2 + 0.4 * gauge.trend!.scatter * evenScatter(day), {
        gauge: gauge.id,
        unit: gauge.unit,
        at_ms: at_h(1000 + day * 14 + 1.2),
        conditions: {
          hot: gauge.conditions.state !== "cold",
          level: true,
          oat_C: -40,
          bottle_C: 10,
          minutesAfterShutdown: 25,
        },
      }),
    );
  });
  return craftWith({
    readings,
    flights: Array.from({ length: days }, (_, day) => flight(at_h(1000 + day * 14), 0.9)),
  });
}

const bench: Bench = async (size) => [...numbers(size), ...(size === "tiny" ? [] : [await paint()])];

export default bench;

function numbers(size: Size): readonly Row[] {
  const state = fourteenMonths(size);
  const turns = size === "tiny" ? 2 : 40;
  const oil = followed[0]!;
  const frame = seriesFrame(sheet, state, until_ms);
  const trend = gaugeTrend(gaugeSeries(oil, frame));
  if (trend?.line == null || trend.watch === null) throw new Error("the gauge has no trend to time");
  const baseline = trend.points.filter(({ hours_h }) => hours_h <= trend.watch!.normal.until_h);
  const levels = craftLevels(sheet, state, until_ms);
  if (levels.gauges.filter((one) => one.trend?.line != null).length !== followed.length)
    throw new Error("a followed gauge has no line");
  return [
    {
      name: "trend of one gauge over 14 months",
      value: least_ms(turns, () => gaugeTrend(gaugeSeries(oil, frame))),
      unit: "ms",
      budget: 2,
      better: "lower",
      peer: {
        name: "robust line of a package, baseline only",
        value: least_ms(turns, () => robustLine(baseline)),
      },
    },
    {
      name: `levels of a craft with ${followed.length} followed gauges, from nothing`,
      // A copy each time: of one record they are computed once.
      value: least_ms(turns, () => craftLevels(sheet, { ...state }, until_ms)),
      unit: "ms",
      better: "lower",
    },
    {
      name: `small pictures of ${followed.length} gauges, their geometry`,
      value: least_ms(turns, () => levels.gauges.map((one) => smallPlot(one, 132, 52))),
      unit: "ms",
      better: "lower",
    },
  ];
}

function robustLine(points: GaugeTrend["points"]): number {
  return new TheilSenRegression(
    points.map(({ hours_h }) => hours_h),
    points.map(({ level }) => level),
  ).slope;
}

function least_ms(turns: number, work: () => unknown): number {
  let least = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < turns; turn += 1) {
    const began = performance.now();
    work();
    least = Math.min(least, performance.now() - began);
  }
  return least;
}

/** From the press on Levels to the frame that shows every small picture, in the demo, at a quarter of the processor's speed. */
async function paint(): Promise<Row> {
  const { launchOptions, ...settings } = launchSettings();
  const preen = await startPreen("2026-11-25T09:40:00.000Z");
  const browser = await chromium.launch({ ...launchOptions, ...settings });
  try {
    const page = await browser.newPage({ viewport: { width: 820, height: 1180 } });
    await page.goto(preen.url);
    await page.getByRole("button", { name: /^Ravn/u }).click();
    for (const digit of "2580") await page.getByRole("button", { name: digit, exact: true }).click();
    await page.getByRole("button", { name: "Enter", exact: true }).click();
    await page.getByRole("navigation").waitFor({ timeout: 60_000 });
    await page.goto(`${preen.url}/craft/tinde`);
    const times: number[] = [];
    for (let turn = 0; turn < 7; turn += 1) {
      await page.getByRole("link", { name: "Standing" }).click();
      await page.locator(".verdict-words").first().waitFor();
      times.push(await pressToPaint(page));
    }
    times.sort((a, b) => a - b);
    return {
      name: `small multiples of ${followed.length} gauges on the screen, processor slowed four times`,
      value: times[3]!,
      unit: "ms",
      budget: 100,
      better: "lower",
    };
  } finally {
    await browser.close();
    await preen.stop();
  }
}

async function pressToPaint(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
  const took = await page.evaluate(
    (wanted) =>
      new Promise<number>((resolve, reject) => {
        const link = document.querySelector<HTMLAnchorElement>('a[href$="/levels"]');
        if (link === null) {
          reject(new Error("there is no way to Levels"));
          return;
        }
        const began = performance.now();
        const look = (): void => {
          if (document.querySelectorAll(".level-small").length < wanted) {
            requestAnimationFrame(look);
            return;
          }
          // Before this frame is painted; the message after it comes when it has been.
          const channel = new MessageChannel();
          channel.port1.addEventListener("message", () => resolve(performance.now() - began));
          channel.port1.start();
          channel.port2.postMessage(null);
        };
        link.click();
        requestAnimationFrame(look);
      }),
    followed.length,
  );
  await session.send("Emulation.setCPUThrottlingRate", { rate: 1 });
  await session.detach();
  return took;
}
