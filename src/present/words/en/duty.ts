import { plural } from "../plural.ts";

const hours = (value: string): string => `${value} flight hours left`;

/** Words of the screens about what runs out and who is on duty. */
export const duty = {
  runsOut: {
    none: "Nothing runs out",
    noneBody: "The sheet lists no programme, and nothing is deferred.",
    first: "What ends first",
    axis: (days: string) => `next ${days} days`,
    notKnown: "not known",
    over: "no longer",
    lastDay: (date: string) => `last day ${date}`,
    lastDayBy: (date: string, cite: string) => `last day ${date}, by ${cite}`,
    extended: "extended once",
    left: {
      flightHours_h: hours,
      landings: (value: string) => `${value} landings left`,
      starts: (value: string) => `${value} starts left`,
      hoistCycles: (value: string) => `${value} hoist cycles left`,
    },
    counterNotKnown: "a counter is not known",
    forecast: (expected: string, early: string, late: string) =>
      `by its own use about ${expected}, between ${early} and ${late}`,
    deferral: (name: string) => `${name}, deferred`,
    confirm: "Confirm the procedures",
    operational: "(O) done by the crew",
    maintenance: "(M) done by an engineer",
    licence: "Licence of the engineer",
    logPage: "Page of the technical log",
    workOrder: "Work order",
    save: "Record it",
    nothingConfirmed: "Say which procedure was done",
    yes: "done",
    no: "not done",
  },
  crew: {
    none: "Nobody is declared on duty",
    noneBody: "Until then it is not known whether the crew may fly.",
    shift: (from: string, until: string) => `On duty ${from} to ${until}`,
    until: (time: string) => `until ${time}`,
    whole: "the whole shift",
    from: (time: string) => `from ${time}`,
    readyNow: "Nothing against it",
    declare: "Declare the shift",
    who: "Who is on duty?",
    roleOf: (person: string) => `${person} as`,
    role: {
      none: "not on duty",
      pilot: "pilot",
      technicalCrew: "technical crew member",
      medic: "medical crew member",
    },
    hours: "Hours from now",
    rested: (person: string) => `Hours of rest before, ${person}`,
    save: "Declare",
    needsPeople: "Choose who is on duty",
    needsHours: "Say until when, and how long each has rested",
    others: (count: number) => plural("en", count, { one: "1 reason", other: `${count} reasons` }),
    general: "The crew together",
  },
};
