// Findings of the two weeks in several lives, by the bands of the invented sheet: one that is watched and grows, one that
// was accepted, one that was fixed, released, closed and is there again, and an event that an engineer has cleared. A
// chance of their own: they change nothing else of the story.
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import { own } from "../src/core/facts/own.ts";
import type { Chapter } from "./history.ts";

type Scene = {
  readonly chapter: Chapter;
  readonly write: (by: string, type: string, at_ms: number, body: object) => Promise<void>;
};

const ids = {
  chafe: "finding-demo-chafe",
  dent: "finding-demo-dent",
  scratch: "finding-demo-scratch",
  leak: "finding-demo-leak",
} as const;

const raised = { item: null, walk: null, photos: [], seenOn: null } as const;
const size = (value: number, unit: string) => ({ value, unit, typed: `${value} ${unit}` });

/** Millimetres of chafing per flight hour, and what the eye adds or leaves out, evening by evening. */
const chafed_mmh = 0.006;
const slips_mm = [0, 0.01, -0.01, 0.01, 0, -0.01, 0.01, 0, 0.01] as const;
const chafeFound = 9;

/** A hose that chafes: measured again on the following evenings when it has flown, a little deeper each time. */
async function chafe({ chapter, write }: Scene, back: number, day_ms: number): Promise<void> {
  const known = own(chapter.scribe.state(chapter.craft.ledger).findings, ids.chafe);
  const hours_h = Number(chapter.hours.flown_h.toFixed(1));
  const begun_h = known?.measured[0]?.hours_h ?? hours_h;
  const isNew = known === undefined && back === chafeFound;
  if (!isNew && (known === undefined || known.measured.at(-1)?.hours_h === hours_h)) return;
  const depth = Number((0.2 + chafed_mmh * (hours_h - begun_h) + slips_mm[chafeFound - back]!).toFixed(2));
  const at_ms = day_ms + 16 * hour_ms;
  const finding = ids.chafe;
  if (isNew) {
    const words = "hose touches the bracket, no wear through";
    await write(chapter.craft.crew, "finding.raised", at_ms, {
      finding,
      ...raised,
      kind: "chafe",
      stop: "rearBay",
      damage: "hoseChafe",
      measure: size(depth, "mm"),
      words,
    });
    await write("p-brekke", "finding.judged", at_ms + 7 * minute_ms, {
      finding,
      outcome: "watch",
      role: "engineer",
      words: "sleeve fitted, measured after every flying day",
      deferral: null,
      again: { days: 14, flight_h: 20 },
      seen: [],
      replaces: [],
    });
  } else
    await write(chapter.craft.crew, "finding.measured", at_ms, {
      finding,
      measure: size(depth, "mm"),
      hours_h,
      photos: [],
      words: "",
    });
}

/** A dent that a pilot accepted by the pilot's band, and a scratch that the crew accepted; both are done with. */
async function accepted({ chapter, write }: Scene, back: number, day_ms: number): Promise<void> {
  const told = {
    8: { finding: ids.dent, kind: "dent", stop: "leftBoom", damage: "boomDent", value: 0.4, role: "pilot" },
    6: {
      finding: ids.scratch,
      kind: "scratch",
      stop: "leftSkid",
      damage: "skidScratch",
      value: 0.1,
      role: "crewMember",
    },
  }[back];
  if (told === undefined) return;
  const { role, value, ...what } = told;
  const at_ms = day_ms + 17 * hour_ms;
  const by = role === "pilot" ? chapter.craft.pilot : chapter.craft.crew;
  const { finding } = what;
  await write(by, "finding.raised", at_ms, { ...raised, ...what, measure: size(value, "mm"), words: "" });
  const judged = {
    finding,
    outcome: "accept",
    role,
    words: "",
    deferral: null,
    again: null,
    seen: [],
    replaces: [],
  };
  await write(by, "finding.judged", at_ms + 4 * minute_ms, judged);
  const closed = { finding, role: "engineer", words: "looked at again, within limits", replaces: [] };
  await write("p-brekke", "finding.closed", at_ms + 40 * minute_ms, closed);
}

/** A leak below the left pump: fixed, released and closed. */
async function leak({ chapter, write }: Scene, back: number, day_ms: number): Promise<void> {
  if (back !== 6) return;
  const finding = ids.leak;
  const at = (minutes: number): number => day_ms + 17 * hour_ms + minutes * minute_ms;
  await write(chapter.craft.crew, "finding.raised", at(0), {
    finding,
    ...raised,
    kind: "leak",
    stop: "leftDeck",
    damage: "servoSeep",
    measure: size(3, "drops/min"),
    words: "wet below the left pump, drips",
  });
  const judged = {
    finding,
    outcome: "ground",
    role: "pilot",
    deferral: null,
    again: null,
    seen: [],
    replaces: [],
  };
  await write(chapter.craft.pilot, "finding.judged", at(3), { ...judged, words: "beyond the limit" });
  await write("p-brekke", "finding.planned", at(30), {
    finding,
    words: "new seal ordered from store",
    licence: null,
  });
  await write("p-brekke", "finding.referenced", at(31), {
    finding,
    kind: "workOrder",
    number: "WO 0426 (invented)",
  });
  await write("p-brekke", "finding.fixed", at(95), { finding, words: "rod seal renewed", licence: null });
  const released = { finding, words: "by the maintenance manual (invented)", licence: "invented 66-1" };
  await write("p-brekke", "finding.released", at(110), released);
  const closed = { finding, role: "engineer", words: "dry after the ground run", replaces: [] };
  await write("p-brekke", "finding.closed", at(112), closed);
}

/** Hail on the parked machine, looked at and cleared by the engineer the same evening. */
async function hail({ chapter, write }: Scene, back: number, day_ms: number): Promise<void> {
  if (back !== 9) return;
  await write(chapter.craft.crew, "event.noted", day_ms + 18 * hour_ms, {
    event: "hail",
    words: "pea size, ten minutes",
  });
  const { events } = chapter.scribe.state(chapter.craft.ledger);
  const noted = events.at(-1)!.entry;
  const words = "blades, screens and stabiliser looked at, no marks";
  await write("p-brekke", "event.cleared", day_ms + 19 * hour_ms, { noted, role: "engineer", words });
}

function sceneOf(chapter: Chapter): Scene {
  const { scribe, craft, sheetHash } = chapter;
  return {
    chapter,
    write: (by, type, at_ms, body) =>
      scribe.write({
        by,
        ledger: craft.ledger,
        type,
        at_ms,
        body: { ...body, at: msToInstant(at_ms) },
        sheet: sheetHash,
      }),
  };
}

/** What one of the last days brings, in the evening when nobody flies. */
export async function tellLives(chapter: Chapter, back: number, day_ms: number): Promise<void> {
  const scene = sceneOf(chapter);
  if (chapter.craft.name === "Tinde") await chafe(scene, back, day_ms);
  if (chapter.craft.name === "Skjær") await accepted(scene, back, day_ms);
  if (chapter.craft.name !== "Myr") return;
  await hail(scene, back, day_ms);
  await leak(scene, back, day_ms);
}

/** The leak is there again: opened anew, keeping its first date, and on the ground. */
export async function leakAgain(chapter: Chapter, at_ms: number): Promise<void> {
  const { write } = sceneOf(chapter);
  const finding = ids.leak;
  await write("p-brekke", "finding.reopened", at_ms, { finding, words: "wet below the left pump, drips" });
  const facts = own(chapter.scribe.state(chapter.craft.ledger).findings, finding)!;
  await write("p-brekke", "finding.judged", at_ms + 7 * minute_ms, {
    finding,
    outcome: "ground",
    role: "engineer",
    words: "wet below the left pump, drips",
    deferral: null,
    again: null,
    seen: facts.reopened.map(({ entry }) => entry),
    replaces: facts.judgements.map(({ entry }) => entry),
  });
}
