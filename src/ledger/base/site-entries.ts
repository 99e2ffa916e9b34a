// The operator's file of sites, as GeoJSON; notices about sites and areas; and what its fuel scheme asks.
//
// A file is proposed by one person, whole and readable by core/reach or refused whole, and released by another; nothing in
// it is lost, whether it is read or not. A notice names
// the notice that it takes the place of; lifting one is a new entry under the same name.
import { z } from "zod";
import { instantToMs } from "../../core/facts/instant.ts";
import type { SitesProposed, SitesReleased } from "../../core/facts/site.ts";
import { noticeKinds } from "../../core/facts/site.ts";
import { Refusal } from "../../core/quantity/refusal.ts";
import { readSites } from "../../core/reach/sites-geojson.ts";
import { beside, hash, instant, madeId, replaces, sheetId, words } from "../craft/shapes.ts";
import { refuse } from "../entry-type.ts";
import { baseEntry } from "./base-entry.ts";

/** The newest proposals that the folded state keeps; all stay in the ledger. */
const kept = 20;

const sitesProposed = baseEntry(
  "sites.proposed",
  ["pilot", "crewMember", "administrator", "airworthiness"],
  z.strictObject({
    edition: z.string().min(1).max(60),
    geojson: z.unknown(),
    words,
    at: instant,
    replaces,
  }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => {
    try {
      readSites(body.geojson);
      const fact: SitesProposed = { entry: id, by, at_ms: instantToMs(at), ...body, ended: null };
      return { ...state, sitesProposed: beside(state.sitesProposed, replaced, fact).slice(-kept) };
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const [{ path, found, wanted }] = error.issues;
      return refuse("sitesUnreadable", path === "" ? "geojson" : `geojson.${path}`, found, wanted);
    }
  },
);

/** By another person than the one who proposed it. Whoever declined it meanwhile, a release stands. */
const sitesReleased = baseEntry(
  "sites.released",
  ["administrator", "airworthiness"],
  z.strictObject({ proposal: hash, at: instant, replaces }),
  (state, { proposal, at, replaces: replaced }, { id, by }) => {
    const proposed = state.sitesProposed.find(({ entry }) => entry === proposal);
    if (proposed === undefined) return refuse("noProposal", "proposal", proposal, "a proposed file");
    if (proposed.by === by)
      return refuse("releasedByItsAuthor", "proposal", by, "another person than the one who proposed it");
    const { edition, geojson } = proposed;
    const fact: SitesReleased = {
      entry: id,
      by,
      at_ms: instantToMs(at),
      edition,
      proposal,
      proposedBy: proposed.by,
      geojson,
      ...readSites(geojson),
    };
    return {
      ...state,
      sites: beside(state.sites, replaced, fact),
      sitesProposed: ended(state.sitesProposed, proposal, "released"),
    };
  },
);

const sitesDeclined = baseEntry(
  "sites.declined",
  ["administrator", "airworthiness"],
  z.strictObject({ proposal: hash, words: words.min(1), at: instant }),
  (state, { proposal }) => ({
    ...state,
    sitesProposed: ended(state.sitesProposed, proposal, "declined"),
  }),
);

function ended(
  all: readonly SitesProposed[],
  proposal: string,
  how: "released" | "declined",
): readonly SitesProposed[] {
  return all.map((one) =>
    one.entry === proposal && one.ended !== "released" ? { ...one, ended: how } : one,
  );
}

const about = z.union([
  z.strictObject({ site: sheetId }),
  z.strictObject({
    lat_deg: z.number().min(-90).max(90),
    lon_deg: z.number().min(-180).max(180),
    radius_nm: z.number().positive().max(500),
  }),
]);

const noticeGiven = baseEntry(
  "site.noticed",
  ["pilot", "crewMember", "airworthiness", "administrator"],
  z.strictObject({
    notice: madeId,
    about,
    kind: z.enum(noticeKinds),
    from: instant,
    until: instant.nullable(),
    words,
    lifted: z.boolean(),
    at: instant,
    replaces,
  }),
  (state, { from, until, at, replaces: replaced, ...body }, { id, by }) => {
    const [from_ms, until_ms] = [instantToMs(from), until === null ? null : instantToMs(until)];
    if (until_ms !== null && until_ms <= from_ms)
      return refuse("endsBeforeItBegins", "until", until ?? "", `after ${from}`);
    const fact = { entry: id, by, at_ms: instantToMs(at), from_ms, until_ms, ...body };
    return { ...state, notices: beside(state.notices, replaced, fact) };
  },
);

const fuelSchemeSet = baseEntry(
  "fuel.schemeSet",
  ["administrator", "airworthiness"],
  z.strictObject({
    contingency_pct: z.number().min(0).max(100),
    extra_kg: z.number().min(0).max(10_000),
    landmarks: z.boolean(),
    hems: z.enum(["local", "continuousSites"]).nullable(),
    refuelRunning: z.boolean().exactOptional(),
    cite: z.string().min(1).max(300),
    at: instant.exactOptional(),
    replaces,
  }),
  (state, { at: _at, replaces: replaced, ...body }, { id, by, at_ms }) => ({
    ...state,
    fuelSchemes: beside(state.fuelSchemes, replaced, { entry: id, by, at_ms, ...body }),
  }),
);

export const siteEntries = [sitesProposed, sitesReleased, sitesDeclined, noticeGiven, fuelSchemeSet] as const;
