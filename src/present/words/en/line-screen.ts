import { plural } from "../plural.ts";

export const lineScreen = {
  together: "All together",
  figure: (operation: string) => `${operation}, the next 72 hours`,
  slider: "A time on the line",
  sliderHow: "arrow keys go from change to change",
  span: (from: string, until: string, verdict: string) => `${from} to ${until}: ${verdict}`,
  from: "now",
  farEnd: "as far as is known",
  keptNote: "Dots in a frame: as it would be if everything that falls due were renewed in time.",
  nothingAgainst: "Nothing stands against it.",
  andMore: (count: number) => plural("en", count, { one: "and 1 more", other: `and ${count} more` }),
  changes: "What changes it, and what would move that",
  noChange: "Nothing changes it within 72 hours.",
  becomes: (verdict: string) => verdict,
  numbersOnly: "other limits",
  lapses: (what: string) => `ends: ${what}`,
  byItself: "by itself",
  help: {
    heading: "What would make it ready",
    now: (count: number) => plural("en", count, { one: "One thing to do", other: `${count} things to do` }),
    later: (time: string, count: number) =>
      count === 0
        ? `Wait until ${time}; nothing else is in the way then`
        : `Wait until ${time}, and by then ${plural("en", count, { one: "one thing", other: `${count} things` })}`,
    none: "Nothing that is known of makes it ready within 72 hours.",
    fewest: "No fewer would do, as far as is known now.",
    clears: (what: string) => `clears: ${what}`,
  },
  fall: {
    heading: (craft: string) => `${craft} has changed`,
    line: (operation: string, verdict: string, time: string) => `${operation}: ${verdict} since ${time}`,
    now: (verdict: string) => `now again ${verdict}`,
    seen: "Seen",
    show: "Show",
    sounds: "It sounds until you have seen it.",
    mute: "Sound is off on this device.",
    blocked: "This page may sound only after it has been touched once.",
  },
  sound: {
    heading: "When a machine of yours is no longer ready",
    on: "sound",
    off: "no sound",
    note: "It shows in any case, and sounds until somebody has seen it.",
    try: "Try the sound",
  },
};
