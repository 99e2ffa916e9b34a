import { plural } from "../plural.ts";

/** What is typed or chosen, and what is wrong with it. */
export const entry = {
  less: (what: string, step: string) => `${what}, ${step} less`,
  more: (what: string, step: string) => `${what}, ${step} more`,
  lastValue: (value: string, when: string) => `last ${value}, ${when}`,
  issue: {
    empty: "Nothing entered yet",
    notANumber: (typed: string) => `“${typed}” is not a number`,
    ambiguous: (typed: string, grouped: number, decimal: number) =>
      `“${typed}” can mean ${grouped} or ${decimal}. Write the one you mean.`,
    tooManyDecimals: (decimals: number) =>
      plural("en", decimals, {
        one: "Read to 1 decimal at most",
        other: decimals === 0 ? "Whole numbers only" : `Read to ${decimals} decimals at most`,
      }),
    below: (lowest: string) => `Below the lowest that can be read, ${lowest}`,
    above: (highest: string) => `Above the highest that can be read, ${highest}`,
  },
  pin: {
    name: "PIN",
    entered: (count: number) => plural("en", count, { one: "1 digit", other: `${count} digits` }),
    delete: "Delete the last digit",
    deleteShort: "Delete",
    enter: "Enter",
    wrong: "That PIN does not fit",
    locked: (span: string) => `Too many tries. Again in ${span}.`,
  },
  person: {
    name: "Who are you?",
    none: "Nobody is enrolled on this device",
  },
  role: {
    pilot: "pilot",
    crewMember: "technical crew member",
    engineer: "engineer",
    airworthiness: "airworthiness office",
    administrator: "administrator",
  },
};
