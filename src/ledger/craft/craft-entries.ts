// Entries about the craft as such: its opening, its sheet, equipment, custody, releases, events, and a pilot's word
// that no other device was used.
import { z } from "zod";
import { custodies } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import { beside, craftEntry, hash, instant, personId, replaces, sheetId, words } from "./shapes.ts";

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
  (state, body, { id, by }) => ({
    ...state,
    custody: beside(state.custody, body.replaces, {
      entry: id,
      by,
      at_ms: instantToMs(body.at),
      custody: body.custody,
      people: body.people,
      words: body.words,
      expectedEnd_ms: body.expectedEnd === null ? null : instantToMs(body.expectedEnd),
    }),
  }),
);

const releaseSigned = craftEntry(
  "release.signed",
  z.strictObject({ licence: z.string().min(1).max(80), words, at: instant }),
  (state, body, { id, by }) => ({
    ...state,
    releases: [
      ...state.releases,
      { entry: id, by, at_ms: instantToMs(body.at), licence: body.licence, words: body.words },
    ],
  }),
);

const eventNoted = craftEntry(
  "event.noted",
  z.strictObject({ event: sheetId, words, at: instant }),
  (state, body, { id, by }) => ({
    ...state,
    events: [
      ...state.events,
      { entry: id, by, at_ms: instantToMs(body.at), event: body.event, words: body.words, cleared: null },
    ],
  }),
);

const eventCleared = craftEntry(
  "event.cleared",
  z.strictObject({ noted: hash, role: z.literal("engineer"), words: words.min(1), at: instant }),
  (state, body, { id, by }) => {
    if (!state.events.some(({ entry }) => entry === body.noted)) {
      return refuse("eventNotHeld", "noted", body.noted, "an event noted in this ledger");
    }
    const cleared = { entry: id, by, at_ms: instantToMs(body.at), role: body.role, words: body.words };
    return {
      ...state,
      events: state.events.map((event) => (event.entry === body.noted ? { ...event, cleared } : event)),
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
  releaseSigned,
  eventNoted,
  eventCleared,
  exchangeConfirmed,
] as const;
