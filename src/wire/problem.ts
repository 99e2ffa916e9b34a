// How the HTTP API says no: one closed list of codes, each with its HTTP status and the sentence that goes with it.
// Screens take their words by the code; the sentence is for people who read the API by hand. Every problem is
// answered as `{code, message, issues?, retryAfter_s?}`.
import { z } from "zod";

export const problems = {
  photoWrong: [
    400,
    "These bytes are not the photo that the hash names, or not a JPEG without data about place and camera.",
  ],
  malformed: [400, "The request is not JSON, or not text that JSON allows."],
  invalid: [400, "The request does not have the shape that this route wants; the issues say where."],
  tokenMissing: [401, "This route wants a bearer token; enrol the device first."],
  tokenUnknown: [401, "The token is not known, or was withdrawn; enrol the device again."],
  codeWrong: [403, "This is not the code that the server printed when it started."],
  pinWrong: [403, "Person and PIN do not go together."],
  roleMissing: [403, "This is for people in another role."],
  foreignOrigin: [403, "Requests are answered for this server's own address only."],
  notFound: [404, "There is nothing under this address."],
  keyUnknown: [404, "No device with this key was enrolled here."],
  ledgerUnknown: [404, "No ledger of this name is kept here."],
  photoUnknown: [404, "No photo with this hash is kept here."],
  sheetUnknown: [404, "No type sheet with this hash is kept here."],
  methodUnknown: [405, "This address does not take that method."],
  alreadyFounded: [409, "This server has its operator already."],
  notFounded: [409, "This server has no operator yet; found one with the code that it printed."],
  keyTaken: [409, "This public key is enrolled already, for another person."],
  photoErased: [410, "This photo was erased by right; it is not taken again."],
  tooLarge: [413, "The request is larger than this route takes; send it in parts."],
  tooFast: [429, "Too many requests; wait as long as `retryAfter_s` says."],
  pinLocked: [429, "Too many wrong PINs; wait as long as `retryAfter_s` says."],
  failed: [500, "The server failed; nothing of the request was kept."],
  storeFull: [507, "The server has no room left; nothing of the request was kept."],
} as const satisfies Readonly<Record<string, readonly [number, string]>>;

export type ProblemCode = keyof typeof problems;
export const problemCodes = Object.keys(problems) as readonly ProblemCode[];

export const issueShape = z.strictObject({
  path: z.string().meta({ description: "Where, as /body/entries/0/sig." }),
  found: z.string(),
  wanted: z.string(),
});
export type WireIssue = z.infer<typeof issueShape>;

export const problemShape = z.strictObject({
  code: z.enum(problemCodes),
  message: z.string(),
  issues: z.array(issueShape).optional(),
  retryAfter_s: z.number().int().min(1).optional(),
});
export type Problem = z.infer<typeof problemShape>;
