// What is wrong with a sheet, as data: where, which rule, what was found, what was wanted.
//
// Words for the screen are made elsewhere from `code`; `describeIssue` gives one plain English line for a terminal.

export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

export type SheetIssue = {
  /** `items[12].opens[0]`; `$` for the sheet as a whole. */
  readonly path: string;
  readonly code: IssueCode;
  readonly found: Json;
  readonly wanted: Json;
};

/** How a rule reports. */
export type Say = (path: string, code: IssueCode, found: Json, wanted?: Json) => void;

type Line = (found: string, wanted: string) => string;

/** Every code with its English line. */
export const issueLines = {
  // The shape of the document.
  type: (found, wanted) => `is ${found}; wanted ${wanted}`,
  missing: (_, wanted) => `is missing; wanted ${wanted}`,
  unknownKey: () => "is a key that this block does not have",
  oneOf: (found, wanted) => `is ${found}; wanted one of ${wanted}`,
  form: (found, wanted) => `is ${found}, which is none of the forms ${wanted}`,
  range: (found, wanted) => `is ${found}; plausible in this unit is ${wanted}`,
  length: (found, wanted) => `has length ${found}; wanted ${wanted}`,
  pattern: (found, wanted) => `is ${found}; wanted ${wanted}`,
  badText: (found) => `holds text that cannot be stored: ${found}`,
  tooDeep: (found, wanted) => `is nested ${found} levels deep; at most ${wanted}`,
  tooLarge: (found, wanted) => `has more than ${found} values; at most ${wanted}`,
  moreIssues: (found) => `has ${found} more errors that are not listed`,
  // References and ids.
  reference: (found, wanted) => `names ${found}, but there is no such ${wanted}`,
  duplicateId: (found, wanted) => `repeats the id ${found} of ${wanted}`,
  repeated: (found) => `lists ${found} twice`,
  itself: (found) => `names itself: ${found}`,
  chapter: (found) => `names chapter ${found}, which the chapter table does not have`,
  sameText: (found) => `says the same in English and German: ${found}`,
  // Applicability.
  unreachable: (found) => `can never apply: no variant and equipment satisfy ${found}`,
  tooWide: (found, wanted) => `depends on ${found} terms; at most ${wanted} can be checked`,
  equipmentConflict: (found) => `can never be installed: ${found}`,
  // Walks.
  neverClosed: (found, wanted) =>
    `is opened in the ${wanted} walk but no item at or after it closes ${found}`,
  closureNeverClosed: (found) =>
    `is not closed by an item of the full walk on every machine that has it: ${found}`,
  emptyWalk: (found) => `has no items in the ${found} walk`,
  orderMissing: (found, wanted) => `leaves out the stop ${found}, which has items in the ${wanted} walk`,
  orderIdle: (found, wanted) => `visits ${found}, which has no item in the ${wanted} walk`,
  stopUnused: (found) => `has no item: ${found}`,
  afterLater: (found, wanted) => `must come after ${found}, which the ${wanted} walk reaches later`,
  afterLoop: (found) => `must come after itself: ${found}`,
  afterElsewhere: (found) => `must come after ${found}, which shares no walk with it`,
  sweepSingly: (found) => `may not be swept: it ${found}`,
  readAction: (found, wanted) => `reads a gauge with the action ${found}; wanted ${wanted}`,
  mirrorOneWay: (found, wanted) => `is mirrored by ${found}, which names ${wanted}`,
  mirrorSide: (found, wanted) => `is mirrored at ${found}; wanted the other side of ${wanted}`,
  provisionLoop: (found) => `comes back to itself along its provision items: ${found}`,
  provisionStop: (found, wanted) => `has its provision item at ${found}; wanted the same stop ${wanted}`,
  provisionWalk: (found, wanted) => `has a provision item that is not in the ${wanted} walk: ${found}`,
  provisionIdle: (found) => `has a provision item but does not depend on equipment: ${found}`,
  closureState: (found, wanted) => `is normally ${found}; for its kind wanted ${wanted}`,
  // Places and geometry.
  polygonOpen: (found, wanted) => `ends at ${found}; wanted its first point ${wanted}`,
  polygonCrosses: (found) => `crosses or touches itself at ${found}`,
  stopInside: (found) => `stands on the floor inside the outline at ${found}`,
  farAway: (found, wanted) => `is at ${found}; wanted near the aircraft, ${wanted}`,
  disagrees: (found, wanted) => `is ${found}, but ${wanted} says the sheet elsewhere`,
  // Numbers.
  notRising: (found, wanted) => `is ${found}; wanted more than ${wanted} before it`,
  limitsCrossed: (found, wanted) => `is ${found}; wanted below the high limit ${wanted}`,
  limitImplausible: (found, wanted) => `is ${found}; wanted inside the plausible range ${wanted}`,
  limitTwice: () => "has a band against temperature and fixed limits; wanted one of them",
  limitNone: (found) => `has no limit at all, but outside means ${found}`,
  bandEnd: (found, wanted) => `is ${found}; wanted ${wanted}`,
  milder: (found, wanted) => `gets milder as the damage grows: ${found} after ${wanted}`,
  moreThan: (found, wanted) => `is ${found}; wanted at most ${wanted}`,
  lessThan: (found, wanted) => `is ${found}; wanted at least ${wanted}`,
  intervalNeeded: (_, wanted) => `needs ${wanted}`,
  intervalUnwanted: (found, wanted) => `has ${found}; only ${wanted} has it`,
  tankCurve: (found, wanted) => `is ${found} kg; wanted ${wanted} kg`,
  envelopeMissing: (found, wanted) => `has no ${found} envelope for the variant ${wanted}`,
  // Charts.
  gridShape: (found, wanted) => `is ${found}; wanted ${wanted}`,
  tooManyNodes: (found, wanted) => `has ${found} values; at most ${wanted}`,
  nameTwice: (found) => `names ${found} a second time`,
  notAnInput: (found, wanted) => `names ${found}, which is no input of the chart; it has ${wanted}`,
  noCommonRange: (found, wanted) =>
    `goes from ${found}; wanted a part in common with the one before it, from ${wanted}`,
  curvesCross: (found) => `crosses the one before it near ${found}`,
  notMonotone: (found, wanted) => `is ${found}; declared ${wanted}`,
  referenceOutside: (found, wanted) =>
    `does not reach the reference line at ${found}: it goes from ${wanted}`,
  stepUnused: (found) => `is ${found}, which no later step reads`,
  stepLate: (found, wanted) => `reads ${found}, which is only made in ${wanted}`,
  stepsApart: (found, wanted) => `takes ${found}; the step before it gives ${wanted}`,
  controlOutside: (found, wanted) => `is ${found}; the chart goes from ${wanted}`,
  controlMissed: (found, wanted) => `is ${found}; the copied points give ${wanted}`,
  unitUnknown: (found) => `names ${found}, which does not end in a known unit`,
  notGiven: (found, wanted) => `names ${found}, which nobody gives for this use; wanted ${wanted}`,
  limitUnsaid: (found, wanted) => `is ${found}; wanted ${wanted}`,
  powerUnsaid: (found) => `needs ${found}, for which the sheet has no chart`,
  limitUnused: (found, wanted) => `has ${found}, but ${wanted}`,
  flowFalls: (found, wanted) =>
    `says ${found} of how the flow goes with the mass, wanted ${wanted}: a heavier machine never burns less`,
  flowTurns: (found, wanted) =>
    `is ${found}, wanted ${wanted}: the air of a leg is read at its two ends, which must bound the flow between them`,
  gaugeUnread: (found) => `needs the gauge ${found}, which no item reads`,
} as const satisfies Record<string, Line>;

export type IssueCode = keyof typeof issueLines;

/** One English line: path, what was found, what was wanted. */
export function describeIssue(issue: SheetIssue): string {
  const line: Line = issueLines[issue.code];
  return `${issue.path} ${line(inWords(issue.found), inWords(issue.wanted))}`;
}

function inWords(value: Json): string {
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.map((part: Json) => inWords(part)).join(", ");
  if (typeof value === "object" && value !== null) {
    return Object.entries(value)
      .map(([key, part]) => `${key} ${inWords(part)}`)
      .join(", ");
  }
  return String(value);
}

const foundTextMax = 80;

/** A value from a document, short enough to show: long texts cut, arrays and objects told by size and keys. */
export function abbreviated(value: unknown): Json {
  if (typeof value === "string")
    return value.length > foundTextMax ? `${value.slice(0, foundTextMax)}…` : value;
  if (value === null || typeof value === "boolean") return value;
  if (typeof value === "number") return Number.isFinite(value) ? value : String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "object") {
    const keys = Object.keys(value);
    return `an object with ${keys.length === 0 ? "no keys" : keys.slice(0, 8).join(", ")}`;
  }
  return value === undefined ? "nothing" : `a ${typeof value}`;
}

/** `items[12].opens[0]`; a key that is no plain word stands in quotes. */
export function pathText(path: readonly PropertyKey[]): string {
  let textSoFar = "";
  for (const step of path) {
    if (typeof step === "number") textSoFar += `[${step}]`;
    else if (/^[A-Za-z_$][\w$]*$/.test(String(step)))
      textSoFar += `${textSoFar === "" ? "" : "."}${String(step)}`;
    else textSoFar += `[${JSON.stringify(String(step))}]`;
  }
  return textSoFar === "" ? "$" : textSoFar;
}
