// Entries about the craft as such: its opening, its sheet, equipment, custody, releases, events, and a pilot's word
// that no other device was used.
import { z } from "zod";
import { custodies } from "../../core/facts/craft.ts";
import type { CustodyFact } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import { closureSet, closuresSet } from "./closure-entries.ts";
import {
  beside,
  craftEntry,
  craftEntryInRole,
  hash,
  instant,
  judgingRoles,
  personId,
  replaces,
  sheetId,
  words,
} from "./shapes.ts";

const craftOpened = craftEntry(
  "craft.opened",
  z.strictObject({
    name: z.string().min(1).max(40),
    variant: z.string().min(1).max(20),
    sheet: hash,
    equipment: z.record(sheetId, z.boolean()),
    openedAt: instant,
  }),
  (state, body, { id, by }) => {
    if (state.opened !== null)
      return refuse("craftAlreadyOpened", "openedAt", body.openedAt, "one opening of a craft");
    const said = { entry: id, by, at_ms: instantToMs(body.openedAt) };
    const equipment = Object.fromEntries(
      Object.entries(body.equipment).map(([name, installed]) => [name, [{ ...said, installed }]]),
    );
    return {
      ...state,
      opened: { ...said, name: body.name, variant: body.variant, sheet: body.sheet },
      sheets: [{ ...said, sheet: body.sheet, holdsFrom_ms: said.at_ms }],
      equipment,
    };
  },
);

const sheetAdopted = craftEntry(
  "sheet.adopted",
  z.strictObject({ sheet: hash, holdsFrom: instant, replaces }),
  (state, body, { id, by, at_ms }) => ({
    ...state,
    sheets: beside(state.sheets, body.replaces, {
      entry: id,
      by,
      at_ms,
      sheet: body.sheet,
      holdsFrom_ms: instantToMs(body.holdsFrom),
    }),
  }),
);

const equipmentSet = craftEntry(
  "equipment.set",
  z.strictObject({ equipment: sheetId, installed: z.boolean(), at: instant, replaces }),
  (state, body, { id, by }) => ({
    ...state,
    equipment: {
      ...state.equipment,
      [body.equipment]: beside(own(state.equipment, body.equipment), body.replaces, {
        entry: id,
        by,
        at_ms: instantToMs(body.at),
        installed: body.installed,
      }),
    },
  }),
);

const baseAssigned = craftEntry(
  "base.assigned",
  z.strictObject({ base: z.string().regex(/^base:[a-z0-9-]{1,64}$/u), at: instant, replaces }),
  (state, { base, at, replaces: replaced }, { id, by }) => ({
    ...state,
    based: beside(state.based, replaced, { entry: id, by, at_ms: instantToMs(at), base }),
  }),
);

const custodyTaken = craftEntry(
  "custody.taken",
  z.strictObject({
    custody: z.enum(custodies),
    people: z.array(personId).max(12),
    words,
    expectedEnd: instant.nullable(),
    at: instant,
    replaces,
  }),
  (state, body, { id, by }) => {
    if (body.custody !== "crew" && body.words.trim() === "")
      return refuse("custodyWithoutReason", "words", body.words, "why the crew does not have it");
    const fact: CustodyFact = {
      entry: id,
      by,
      at_ms: instantToMs(body.at),
      custody: body.custody,
      people: body.people,
      words: body.words,
      expectedEnd_ms: body.expectedEnd === null ? null : instantToMs(body.expectedEnd),
    };
    return {
      ...state,
      custody: beside(state.custody, body.replaces, fact),
      handovers: [...state.handovers, fact],
    };
  },
);

const licence = z.string().min(1).max(80);
const engineers = ["engineer"] as const;

const releaseSigned = craftEntry(
  "release.signed",
  z.strictObject({
    licence,
    dataRevision: z.string().min(1).max(120),
    limitations: words,
    takesAway: z.array(sheetId).max(60),
    lifts: z.array(hash).max(64),
    worked: z.array(sheetId).max(200),
    closures: z.array(closureSet).max(100),
    words,
    at: instant,
  }),
  (state, { at, closures, ...body }, { id, by }) => {
    if (body.takesAway.length > 0 && body.limitations.trim() === "")
      return refuse(
        "limitWithoutWords",
        "limitations",
        body.limitations,
        "why these kinds of flying are taken away",
      );
    const unknown = body.lifts.find((entry) => !state.releases.some((release) => release.entry === entry));
    if (unknown !== undefined)
      return refuse("releaseNotHeld", "lifts", unknown, "releases signed in this ledger");
    const said = { entry: id, by, at_ms: instantToMs(at) };
    return {
      ...state,
      releases: [...state.releases, { ...said, ...body }],
      closures: closuresSet(state.closures, closures, said, null),
    };
  },
  engineers,
);

const inspectionSigned = craftEntry(
  "inspection.signed",
  z.strictObject({ release: hash, licence, words, at: instant }),
  (state, { at, ...body }, { id, by }) => {
    const release = state.releases.find(({ entry }) => entry === body.release);
    if (release === undefined)
      return refuse("releaseNotHeld", "release", body.release, "a release signed in this ledger");
    if (release.by === by)
      return refuse("inspectedByWhoReleased", "release", by, "another person than the one who released it");
    return {
      ...state,
      inspections: [...state.inspections, { entry: id, by, at_ms: instantToMs(at), ...body }],
    };
  },
  engineers,
);

const eventNoted = craftEntry(
  "event.noted",
  z.strictObject({ event: sheetId, words, at: instant }),
  (state, body, { id, by }) => ({
    ...state,
    events: [
      ...state.events,
      { entry: id, by, at_ms: instantToMs(body.at), event: body.event, words: body.words, cleared: [] },
    ],
  }),
);

const eventCleared = craftEntryInRole(
  "event.cleared",
  z.strictObject({ noted: hash, role: z.enum(judgingRoles), words: words.min(1), at: instant }),
  (state, body, { id, by }) => {
    if (!state.events.some(({ entry }) => entry === body.noted)) {
      return refuse("eventNotHeld", "noted", body.noted, "an event noted in this ledger");
    }
    const cleared = { entry: id, by, at_ms: instantToMs(body.at), role: body.role, words: body.words };
    return {
      ...state,
      events: state.events.map((event) =>
        event.entry === body.noted ? { ...event, cleared: [...event.cleared, cleared] } : event,
      ),
    };
  },
);

const exchangeConfirmed = craftEntry(
  "exchange.confirmed",
  z.strictObject({ words, at: instant }),
  (state, body, { id, by }) => ({
    ...state,
    exchangeConfirmed: [
      ...state.exchangeConfirmed,
      { entry: id, by, at_ms: instantToMs(body.at), words: body.words },
    ],
  }),
);

export const craftEntries = [
  craftOpened,
  sheetAdopted,
  equipmentSet,
  custodyTaken,
  baseAssigned,
  releaseSigned,
  inspectionSigned,
  eventNoted,
  eventCleared,
  exchangeConfirmed,
] as const;
