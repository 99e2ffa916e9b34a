// Findings: raised, seen and measured again, judged, fixed, released, closed, reopened. A judgement replaces only those
// that the writer had on the screen, and a looser one never takes the place of a stricter one without the authority to;
// judgements made apart stand side by side and the worse counts (src/core/finding).
import { z } from "zod";
import { findingKinds, mostPhotoBytes, outcomes, referenceKinds } from "../../core/facts/craft.ts";
import type { CraftState, FindingFacts, LifeStep } from "../../core/facts/craft.ts";
import { instantToMs, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { mayReplace } from "../../core/finding/judgement.ts";
import { refuse } from "../entry-type.ts";
import type { EntryMeta, EntryType, Refusal } from "../entry-type.ts";
import {
  craftEntry,
  craftEntryInRole,
  hash,
  instant,
  judgingRoles,
  madeId,
  replaces,
  sheetId,
  typed,
  words,
} from "./shapes.ts";

const measure = z.strictObject({ value: z.number(), unit: z.string().min(1).max(16), typed });

const photo = z.strictObject({
  hash,
  mime: z.literal("image/jpeg"),
  bytes: z.int().min(1).max(mostPhotoBytes),
  width_px: z.int().min(1).max(4_096),
  height_px: z.int().min(1).max(4_096),
});
const photos = z.array(photo).max(8);

// Keys that may be left out came after the first demo: bodies without them read as they always did.
const raised = z.strictObject({
  finding: madeId,
  kind: z.enum(findingKinds),
  stop: sheetId,
  item: sheetId.nullable(),
  walk: madeId.nullable(),
  measure: measure.nullable(),
  words,
  damage: sheetId.nullable().exactOptional(),
  photos: photos.exactOptional(),
  seenOn: z.strictObject({ at: instant, typed }).nullable().exactOptional(),
  at: instant,
});

const again = z.strictObject({
  days: z.int().min(1).max(400).nullable(),
  flight_h: z.number().positive().max(1_000).nullable(),
});

const judged = z.strictObject({
  finding: madeId,
  outcome: z.enum(outcomes),
  role: z.enum(judgingRoles),
  words,
  deferral: sheetId.nullable(),
  again: again.nullable().exactOptional(),
  seen: z.array(hash).max(64).exactOptional(),
  at: instant,
  replaces,
});

const seen = z.strictObject({ finding: madeId, words, photos: photos.exactOptional(), at: instant });
const measured = z.strictObject({
  finding: madeId,
  measure: measure.extend({ value: z.number().min(0) }),
  hours_h: z.number().min(0).max(1_000_000).nullable(),
  photos,
  words,
  at: instant,
});
const closed = z.strictObject({
  finding: madeId,
  role: z.enum(judgingRoles),
  words: words.min(1),
  replaces: replaces.exactOptional(),
  at: instant,
});
const said = { finding: madeId, words, at: instant };
const referenced = z.strictObject({
  finding: madeId,
  kind: z.enum(referenceKinds),
  number: z.string().min(1).max(60),
  at: instant,
});

function withFinding(
  state: CraftState,
  finding: string,
  change: (facts: FindingFacts) => FindingFacts,
): CraftState | Refusal {
  const facts = own(state.findings, finding);
  if (facts === undefined)
    return refuse("findingNotRaised", "finding", finding, "a finding raised in this ledger");
  return { ...state, findings: { ...state.findings, [finding]: change(facts) } };
}

type Stamp = { readonly entry: string; readonly by: string; readonly at_ms: number };
const stamp = ({ id, by }: EntryMeta, at: string): Stamp => ({ entry: id, by, at_ms: instantToMs(at) });

/** The steps between judging and closing. Work and its release are an engineer's to write. */
function stepEntry(step: LifeStep["step"], type: string, roles: readonly string[]): EntryType<CraftState> {
  const licensed = step === "released";
  const body = z.strictObject({
    ...said,
    words: said.words.min(1),
    licence: licensed ? z.string().min(1).max(80) : z.null(),
  });
  return craftEntry(
    type,
    body,
    (state, { finding, at, licence, words: told }, meta) =>
      withFinding(state, finding, (facts) => {
        const taken: LifeStep = { ...stamp(meta, at), step, licence, words: told };
        return { ...facts, steps: [...facts.steps, taken] };
      }),
    roles,
  );
}

export const findingEntries = [
  craftEntry("finding.raised", raised, (state, { finding, at, ...body }, meta) => {
    // A date ahead of the entry would lengthen a deferral.
    if (instantToMs(at) > meta.at_ms + 5 * minute_ms)
      return refuse("recordedInFuture", "at", at, `at most ${msToInstant(meta.at_ms)}`);
    if (own(state.findings, finding) !== undefined) {
      return refuse("findingAlreadyRaised", "finding", finding, "an id that no finding has yet");
    }
    const { damage = null, photos: shown = [], seenOn = null } = body;
    if (seenOn !== null && instantToMs(seenOn.at) > instantToMs(at))
      return refuse("seenAfterRecord", "seenOn", seenOn.at, `at most ${at}`);
    const facts: FindingFacts = {
      finding,
      raised: {
        ...stamp(meta, at),
        ...body,
        damage,
        photos: shown,
        seenOn: seenOn === null ? null : { at_ms: instantToMs(seenOn.at), typed: seenOn.typed },
      },
      judgements: [],
      deferralSteps: [],
      seenAgain: [],
      measured: [],
      steps: [],
      references: [],
      closed: [],
      reopened: [],
    };
    return { ...state, findings: { ...state.findings, [finding]: facts } };
  }),
  craftEntryInRole("finding.judged", judged, (state, { finding, at, replaces: replaced, ...body }, meta) =>
    withFinding(state, finding, (facts) => {
      const judgement = { ...stamp(meta, at), ...body, again: body.again ?? null, seen: body.seen ?? [] };
      const stay = facts.judgements.filter(
        (held) => !replaced.includes(held.entry) || !mayReplace(held, judgement),
      );
      return { ...facts, judgements: [...stay, judgement] };
    }),
  ),
  craftEntry("finding.seenAgain", seen, (state, { finding, at, words: told, photos: shown = [] }, meta) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      seenAgain: [...facts.seenAgain, { ...stamp(meta, at), words: told, photos: shown }],
    })),
  ),
  craftEntry("finding.measured", measured, (state, { finding, at, ...body }, meta) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      measured: [...facts.measured, { ...stamp(meta, at), ...body }],
    })),
  ),
  stepEntry("toBeFixed", "finding.planned", ["engineer", "airworthiness"]),
  stepEntry("fixed", "finding.fixed", ["engineer"]),
  stepEntry("released", "finding.released", ["engineer"]),
  craftEntryInRole("finding.closed", closed, (state, { finding, at, ...body }, meta) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      closed: [
        ...facts.closed,
        { ...stamp(meta, at), role: body.role, words: body.words, replaces: body.replaces ?? [] },
      ],
    })),
  ),
  craftEntry(
    "finding.reopened",
    z.strictObject({ ...said, words: said.words.min(1) }),
    (state, { finding, at, words: told }, meta) =>
      withFinding(state, finding, (facts) => ({
        ...facts,
        reopened: [...facts.reopened, { ...stamp(meta, at), words: told }],
      })),
  ),
  craftEntry("finding.referenced", referenced, (state, { finding, at, ...body }, meta) =>
    withFinding(state, finding, (facts) => ({
      ...facts,
      references: [...facts.references, { ...stamp(meta, at), ...body }],
    })),
  ),
] as const;
