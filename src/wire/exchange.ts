// The routes by which devices enrol and exchange entries with the server. The order of an exchange: sync/device.ts.
// What is asked is read strictly, so that a slip is told; what is answered is read leniently, so that a newer server
// may say more than an older app understands.
import { z } from "zod";
import type { Route } from "./route.ts";
import {
  cursorShape,
  epochShape,
  hashShape,
  instantShape,
  keyShape,
  ledgerShape,
  limits,
  personIdShape,
  storedEntryShape,
} from "./shapes.ts";

const seenShape = cursorShape.optional().meta({
  description: "The newest mark that the device was given: by it the server notices that it was restored.",
});
const markShape = cursorShape.meta({ description: "Where the server stands now; hand back as `seen`." });

export const helloRoute = {
  id: "hello",
  method: "GET",
  path: "/api/hello",
  summary:
    "Who runs this server, what is kept here, and who may enrol. Open, so that a new device can choose.",
  auth: "open",
  reply: z.object({
    operator: z
      .object({
        ledger: ledgerShape,
        name: z.string(),
        publicKey: keyShape.meta({ description: "Root of trust: every certificate leads back to it." }),
      })
      .nullable()
      .meta({ description: "Null while nobody has founded one." }),
    serverKey: keyShape.meta({
      description: "Signs receipts and certificates; certified by the operator's key.",
    }),
    mode: z.enum(["demo", "operator"]),
    epoch: epochShape,
    serverTime: instantShape,
    version: z.string(),
    bases: z.array(z.object({ ledger: ledgerShape, name: z.string() })),
    people: z.array(z.object({ id: z.string(), name: z.string(), roles: z.array(z.string()) })),
    craft: z.array(z.object({ ledger: ledgerShape, name: z.string() })),
    sheets: z.array(hashShape),
  }),
  problems: [],
} as const satisfies Route;

export const enrolRoute = {
  id: "enrol",
  method: "POST",
  path: "/api/enrol",
  summary: "Certifies a device's public key for one person, who proves to be that person by a PIN.",
  auth: "open",
  body: z.strictObject({
    person: personIdShape,
    pin: z.string().min(4).max(64),
    publicKey: keyShape,
    deviceName: z.string().min(1).max(80),
  }),
  reply: z.object({
    token: z.string().meta({ description: "For the Authorization header; shown once, kept only as a hash." }),
    certificate: hashShape.meta({ description: "Id of the entry that certifies the key." }),
    ledger: ledgerShape.meta({ description: "The operator's ledger, in which the certificate stands." }),
  }),
  problems: ["pinWrong", "pinLocked", "keyTaken", "notFounded", "storeFull"],
} as const satisfies Route;

export const revokeRoute = {
  id: "revoke",
  method: "POST",
  path: "/api/revoke",
  summary:
    "Revokes a device's key from now on. For administrators; the server signs it into the operator's ledger.",
  auth: "bearer",
  body: z.strictObject({ key: keyShape, why: z.string().min(1).max(2_000) }),
  reply: z.object({
    entry: hashShape.meta({ description: "Id of the revocation, this one or an earlier one." }),
  }),
  problems: ["roleMissing", "keyUnknown", "storeFull"],
} as const satisfies Route;

export const offerRoute = {
  id: "offer",
  method: "POST",
  path: "/api/offer",
  summary: "Of the ids of entries that a device holds, those that the server lacks and wants pushed.",
  auth: "bearer",
  body: z.strictObject({ ids: z.array(hashShape).max(limits.idsPerOffer), seen: seenShape }),
  reply: z.object({ epoch: epochShape, wanted: z.array(hashShape), mark: markShape }),
  problems: [],
} as const satisfies Route;

/** What the server says to one pushed entry. */
export const verdictShape = z.object({
  id: hashShape,
  verdict: z.enum(["accepted", "held", "refused", "notKept"]).meta({
    description:
      "accepted: kept and counts; a code is a warning. held: was kept already. refused: kept and travels, but does not " +
      "count; see code. notKept: does not hash or verify, so that nobody stands behind it, or is another operator's.",
  }),
  code: z.string().nullable().meta({ description: "Why, for refused and notKept; a warning for accepted." }),
});

export const pushRoute = {
  id: "push",
  method: "POST",
  path: "/api/push",
  summary:
    "Hands entries to the server. Idempotent by id; answered once they and their receipts are on the disk.",
  auth: "bearer",
  body: z.strictObject({
    entries: z.array(storedEntryShape).min(1).max(limits.entriesPerPush),
    seen: cursorShape
      .optional()
      .meta({ description: "Newest cursor or mark that the device was ever given." }),
  }),
  reply: z.object({
    epoch: epochShape,
    verdicts: z.array(verdictShape),
    mark: markShape,
  }),
  problems: ["storeFull"],
} as const satisfies Route;

export const pullRoute = {
  id: "pull",
  method: "GET",
  path: "/api/pull",
  summary: "Entries after a cursor, in the order in which the server got them; of one ledger when named.",
  auth: "bearer",
  query: z.strictObject({
    cursor: cursorShape.optional(),
    seen: seenShape,
    ledger: ledgerShape.optional(),
    limit: z.coerce.number().int().min(1).max(limits.entriesPerPull).optional(),
  }),
  reply: z.object({
    epoch: epochShape,
    entries: z.array(storedEntryShape),
    cursor: cursorShape,
    more: z.boolean(),
    restarted: z.boolean().meta({
      description: "True: the cursor given was of another epoch; this page starts from the beginning.",
    }),
    serverTime: instantShape,
  }),
  problems: ["ledgerUnknown"],
} as const satisfies Route;

export const sheetRoute = {
  id: "sheet",
  method: "GET",
  path: "/api/sheets/:hash",
  summary: "A type sheet by its hash. Never changes, so it may be kept for ever.",
  auth: "open",
  params: z.strictObject({ hash: hashShape }),
  reply: z.looseObject({}).meta({ description: "The type sheet (JSON)." }),
  problems: ["sheetUnknown"],
} as const satisfies Route;

export const healthRoute = {
  id: "health",
  method: "GET",
  path: "/health",
  summary: "Whether the server is up and its store answers.",
  auth: "open",
  reply: z.object({
    ok: z.literal(true),
    mode: z.enum(["demo", "operator"]),
    entries: z.number().int(),
  }),
  problems: [],
} as const satisfies Route;

export const openApiRoute = {
  id: "openApi",
  method: "GET",
  path: "/api/openapi.json",
  summary: "This description.",
  auth: "open",
  reply: z.looseObject({ openapi: z.string() }),
  problems: [],
} as const satisfies Route;
