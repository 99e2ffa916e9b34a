// Words that a pure room may not say. Whatever they give is passed in: the clock, chance, storage, crypto, the network.
// A name that the file declares itself (a parameter `crypto`, a variable `window`) is not meant.

type Ban = { readonly why: string; readonly words: readonly string[]; readonly members?: readonly string[] };

const bans: readonly Ban[] = [
  {
    why: "the clock is passed in",
    words: ["Date()", "new Date()", "Date.now", "Temporal.Now", "performance"],
  },
  { why: "chance is passed in", words: ["Math.random"] },
  { why: "crypto is passed in", words: ["crypto"] },
  {
    why: "the machine's own zone and language would decide",
    words: ["new Date(x, y)"],
    members: [
      "getDate",
      "getDay",
      "getFullYear",
      "getHours",
      "getMinutes",
      "getMonth",
      "getTimezoneOffset",
      "setDate",
      "setFullYear",
      "setHours",
      "setMinutes",
      "setMonth",
      "toDateString",
      "toTimeString",
      "toLocaleDateString",
      "toLocaleTimeString",
    ],
  },
  {
    why: "time passes outside",
    words: [
      "setTimeout",
      "setInterval",
      "setImmediate",
      "queueMicrotask",
      "requestAnimationFrame",
      "requestIdleCallback",
    ],
  },
  {
    why: "the network, storage and screen are outside",
    words: [
      "fetch",
      "XMLHttpRequest",
      "WebSocket",
      "EventSource",
      "Worker",
      "BroadcastChannel",
      "indexedDB",
      "caches",
      "localStorage",
      "sessionStorage",
      "navigator",
      "location",
      "document",
      "window",
      "self",
    ],
  },
  {
    why: "the process and its modules are outside",
    words: [
      "process",
      "globalThis",
      "global",
      "require",
      "Buffer",
      "console",
      "eval",
      "Function",
      "import.meta",
    ],
  },
];

const reasons = new Map(
  bans.flatMap(({ why, words, members = [] }) =>
    [...words, ...members.map((name) => `.${name}`)].map((word) => [word, why] as const),
  ),
);

/** Why a word that was read in a module is banned, or null. */
export function whyBanned(word: string): string | null {
  return reasons.get(word) ?? null;
}
