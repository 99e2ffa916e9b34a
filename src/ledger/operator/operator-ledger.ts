// The operator's ledger: who may sign, which sheets were released, which settings hold. It carries the trust by which
// every other ledger is judged, and is itself judged by it (in layers, fold.ts): its opening names the root key, the root
// certifies the server's keys, and root and server everybody's. Only the root unmakes a server key, and nothing the root.
//
// People are ids here; their names stand in a directory that can be erased.
import { z } from "zod";
import { instantToMs } from "../../core/facts/instant.ts";
import { isZone } from "../../core/facts/calendar.ts";
import type { MinimaSettled, MinimaUse, OperatorSettings } from "../../core/facts/situation.ts";
import { holdsRole, noTrust, roles } from "../acceptance.ts";
import type { Certificate, Revocation, Trust } from "../acceptance.ts";
import { beside, hash, instant, personId, replaces, words } from "../craft/shapes.ts";
import type { FlightRules } from "../../core/facts/flight-rules.ts";
import type { CrewKnown } from "../../core/facts/crew.ts";
import { crewEntriesFor, nobodyKnown } from "./crew-entries.ts";
import { entryType, refuse } from "../entry-type.ts";
import type { EntryType } from "../entry-type.ts";
import type { LedgerDefinition } from "../fold.ts";
import type { Opened } from "../open.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

export type SheetReleased = Said & {
  readonly sheet: string;
  readonly name: string;
  readonly revision: string;
  readonly holdsFrom_ms: number;
  readonly preparedBy: string;
};

export type BaseDescribed = Said & {
  readonly base: string;
  readonly name: string;
  readonly lat_deg: number;
  readonly lon_deg: number;
  readonly elevation_m: number;
};

export type OperatorState = {
  readonly opened: (Said & { readonly name: string }) | null;
  readonly trust: Trust;
  readonly sheets: readonly SheetReleased[];
  readonly settings: readonly (Said & OperatorSettings)[];
  readonly bases: readonly BaseDescribed[];
  readonly crew: CrewKnown;
  readonly minima: readonly (Said & MinimaSettled)[];
  readonly flightRules: readonly FlightRules[];
  readonly minimaUses: readonly (Said & { readonly uses: readonly MinimaUse[] })[];
};

const key = z.string().regex(/^[0-9a-f]{64}$/u);

const opened = entryType<OperatorState, { name: string; root: string; at: string }>(
  { type: "operator.opened", tv: 1, critical: true, roles: [] },
  z.strictObject({ name: z.string().min(1).max(120), root: key, at: instant }),
  (state, body, { id, by, key: signer }) => {
    if (state.opened !== null) return refuse("operatorAlreadyOpened", "root", body.root, "one opening");
    if (signer !== body.root) return refuse("rootIsAnother", "root", body.root, signer);
    return {
      ...state,
      opened: { entry: id, by, at_ms: instantToMs(body.at), name: body.name },
      trust: { ...state.trust, root: body.root },
    };
  },
);

const certified = entryType(
  { type: "key.certified", tv: 1, critical: true, roles: ["server"] },
  z.strictObject({
    key,
    person: personId,
    roles: z.array(z.enum(roles)).min(1).max(roles.length),
    from: instant,
    until: instant.nullable(),
  }),
  (state: OperatorState, body, { id, key: signer }) => {
    const { root } = state.trust;
    if (body.key === root) return refuse("rootNeedsNone", "key", body.key, "another key than the root");
    if (body.roles.includes("server") && signer !== root)
      return refuse("onlyRootMakesServers", "roles", "server", "the operator's own key as signer");
    const certificate: Certificate = {
      entry: id,
      key: body.key,
      person: body.person,
      roles: body.roles,
      from_ms: instantToMs(body.from),
      until_ms: body.until === null ? null : instantToMs(body.until),
    };
    const { trust } = state;
    const certificates = {
      ...trust.certificates,
      [body.key]: [...(trust.certificates[body.key] ?? []), certificate],
    };
    return { ...state, trust: { ...trust, certificates } };
  },
);

const revoked = entryType(
  { type: "key.revoked", tv: 1, critical: true, roles: ["server"] },
  z.strictObject({ key, why: words.min(1), at: instant }),
  (state: OperatorState, body, { id, key: signer }) => {
    const { trust } = state;
    if (signer !== trust.root && holdsRole(trust, body.key, "server"))
      return refuse("onlyRootUnmakesServers", "key", body.key, "the operator's own key as signer");
    const revocation: Revocation = { entry: id, key: body.key, at_ms: instantToMs(body.at), why: body.why };
    const held = state.trust.revocations[body.key];
    // Of two revocations of one key the earlier holds: that sets more aside, never less.
    if (held !== undefined && held.at_ms <= revocation.at_ms) return state;
    return {
      ...state,
      trust: { ...state.trust, revocations: { ...state.trust.revocations, [body.key]: revocation } },
    };
  },
);

/** A key that is used no more: its certificates end at an instant, and what it wrote before keeps counting. */
const ranOut = entryType(
  { type: "key.ranOut", tv: 1, critical: true, roles: ["server"] },
  z.strictObject({ key, until: instant }),
  (state: OperatorState, body, { key: signer }) => {
    const { trust } = state;
    if (signer !== trust.root && holdsRole(trust, body.key, "server"))
      return refuse("onlyRootUnmakesServers", "key", body.key, "the operator's own key as signer");
    const held = trust.certificates[body.key];
    if (held === undefined) return refuse("keyNeverCertified", "key", body.key, "a key that was certified");
    const until_ms = instantToMs(body.until);
    // It only ever shortens.
    const ended = held.map((certificate) => ({
      ...certificate,
      until_ms: Math.min(certificate.until_ms ?? until_ms, until_ms),
    }));
    return {
      ...state,
      trust: { ...trust, certificates: { ...trust.certificates, [body.key]: ended } },
    };
  },
);

const sheetReleased = entryType(
  { type: "sheet.released", tv: 1, critical: true, roles: ["airworthiness", "administrator"] },
  z.strictObject({
    sheet: hash,
    name: z.string().min(1).max(120),
    revision: z.string().min(1).max(60),
    holdsFrom: instant,
    preparedBy: personId,
    replaces,
  }),
  (state: OperatorState, { holdsFrom, replaces: replaced, ...body }, { id, by, at_ms }) =>
    body.preparedBy === by
      ? refuse("releasedByItsAuthor", "preparedBy", by, "another person than the one who releases")
      : {
          ...state,
          sheets: beside(state.sheets, replaced, {
            entry: id,
            by,
            at_ms,
            ...body,
            holdsFrom_ms: instantToMs(holdsFrom),
          }),
        },
);

const settingsSet = entryType(
  { type: "settings.set", tv: 1, critical: true, roles: ["administrator"] },
  z.strictObject({
    zone: z.string().refine(isZone, { error: "a zone of the IANA data base, or UTC" }),
    exchangeLimit_min: z.number().min(1).max(10_080),
    replaces,
  }),
  (state: OperatorState, { replaces: replaced, ...settings }, { id, by, at_ms }) => ({
    ...state,
    settings: beside(state.settings, replaced, { entry: id, by, at_ms, ...settings }),
  }),
);

const baseDescribed = entryType(
  { type: "base.described", tv: 1, critical: false, roles: ["administrator"] },
  z.strictObject({
    base: z.string().regex(/^base:[a-z0-9-]{1,64}$/u),
    name: z.string().min(1).max(80),
    lat_deg: z.number().min(-90).max(90),
    lon_deg: z.number().min(-180).max(180),
    elevation_m: z.number().min(-500).max(9_000),
    replaces,
  }),
  (state: OperatorState, { replaces: replaced, ...base }, { id, by, at_ms }) => ({
    ...state,
    bases: beside(state.bases, replaced, { entry: id, by, at_ms, ...base }),
  }),
);

const types: readonly EntryType<OperatorState>[] = [
  opened,
  certified,
  revoked,
  ranOut,
  sheetReleased,
  settingsSet,
  baseDescribed,
  ...crewEntriesFor<OperatorState>(),
];

export const operatorLedger: LedgerDefinition<OperatorState> = {
  initial: {
    opened: null,
    trust: noTrust,
    sheets: [],
    settings: [],
    bases: [],
    crew: nobodyKnown,
    minima: [],
    minimaUses: [],
    flightRules: [],
  },
  types,
  trustSource: {
    types: ["operator.opened", "key.certified", "key.revoked", "key.ranOut"],
    rootIn,
    trustIn: ({ trust }) => trust,
  },
};

/** The root that the ledger names itself. Of two openings by different keys neither is believed: one is forged. */
function rootIn(ordered: readonly Opened[]): string | null {
  const named = new Set(
    ordered
      .filter(({ envelope, body }) => {
        const { root } = (body ?? {}) as { readonly root?: unknown };
        return envelope.type === opened.type && root === envelope.key;
      })
      .map(({ envelope }) => envelope.key),
  );
  return named.size === 1 ? [...named][0]! : null;
}

/**
 * The settings that hold: where people set them apart, the shorter exchange limit; the zone only when all agree, since
 * no zone is the stricter one (null then: nothing that depends on days may be called known).
 */
export function settingsInForce({
  settings,
  crew,
  minima,
  minimaUses,
  flightRules,
}: OperatorState): OperatorSettings | null {
  const [first, ...others] = settings;
  if (first === undefined || others.some(({ zone }) => zone !== first.zone)) return null;
  return {
    zone: first.zone,
    exchangeLimit_min: Math.min(...settings.map(({ exchangeLimit_min }) => exchangeLimit_min)),
    ...(flightRules.length === 0 ? {} : { flightRules }),
    ...(minimaUses.length === 0 ? {} : { minimaUses: minimaUses.flatMap(({ uses }) => uses) }),
    ...(crew.rules.length === 0 ? {} : { ruleSet: ruleSetOf(crew), crew, minima }),
  };
}

/** The rule set that holds; null where sets made apart differ, since neither is the stricter one throughout. */
function ruleSetOf({ rules }: CrewKnown): "eu" | "us" | null {
  const [first, ...others] = rules;
  return first === undefined || others.some(({ ruleSet }) => ruleSet !== first.ruleSet)
    ? null
    : first.ruleSet;
}
