import { plural } from "../plural.ts";

const items = (count: number) => plural("en", count, { one: "1 item", other: `${count} items` });
const things = (count: number) => plural("en", count, { one: "1 thing", other: `${count} things` });

export const walk = {
  kind: {
    full: "Full walk",
    launch: "Launch walk",
    parking: "Parking walk",
  },
  /** What the second line of a button says of a launch walk. */
  things,
  mark: {
    good: "good",
    blank: "not yet",
    finding: "finding",
    notReached: "not reached",
  },
  doing: {
    good: "Good",
    finding: "Finding",
    notReached: "Not reached",
    restOfStop: "rest of stop",
    restOfStopLong: "The rest of this stop is good",
    leaveStop: "Leave this stop",
    nextStop: "Next stop",
    finish: "Finish the walk",
    begin: "Begin",
    callOut: "Call-out",
    resume: "Resume",
    closed: "Closed",
    stillOpen: "Still open",
  },
  stopOf: (position: number, count: number) => `stop ${position} of ${count}`,
  itemOf: (position: number, count: number) => `${position} of ${count}`,
  access: { floor: "floor", step: "step", ladder: "ladder", top: "on top" },
  itemsLeft: (count: number) => `${items(count)} left`,
  thingsOpen: (count: number) => `${things(count)} open`,
  aboutMinutes: (count: number) => `about ${count} min`,
  frozen: (left: number, open: number, about_min: number) =>
    `${items(left)} left, ${things(open)} open, about ${about_min} min`,
  openHere: "Open here",
  openStill: "Still open",
  drawing: {
    name: "Where the walk goes",
    places: "The aircraft, place by place",
    here: "here",
    next: "next",
    walked: "walked",
    toCome: "to come",
    findings: (count: number) => plural("en", count, { one: "1 finding", other: `${count} findings` }),
    open: (count: number) => plural("en", count, { one: "1 open", other: `${count} open` }),
    nose: "nose",
    tail: "tail",
    left: "left",
    right: "right",
  },
  withDetails: (name: string, details: readonly string[]) => [name, ...details].join(", "),
};
