// Exchanges that are broken on purpose: each breaks one promise of the protocol in its wiring, and is caught in some world
// by what is named for it. So it is shown that the worlds can fail.
import type { StoredEntry } from "../../src/ledger/entry.ts";
import { CallError } from "../../src/sync/exchanger.ts";
import type { DeviceLog } from "../../src/sync/exchanger.ts";
import type { Answer } from "../../src/sync/message.ts";
import type { ServerLog } from "../../src/sync/server-side.ts";
import { runWorld, weathers } from "./world.ts";
import type { Breaks, Fault, WorldFault } from "./world.ts";

export type BrokenExchange = {
  readonly name: string;
  readonly breaks: Breaks;
  /** Where it shows. */
  readonly allowed: readonly Fault[];
  readonly caughtBy: WorldFault;
};

type Log = Pick<ServerLog, "append" | "since" | "lacking" | "writeNote" | "head" | "readNote">;

/** Every operation of a log as it is, with its `this`. */
function whole(log: Log): ServerLog {
  return {
    append: (entries) => log.append(entries),
    since: (position, limit, ledger) => log.since(position, limit, ledger),
    head: () => log.head(),
    lacking: (ids) => log.lacking(ids),
    readNote: (name) => log.readNote(name),
    writeNote: (name, text) => log.writeNote(name, text),
  };
}

/** Says that entries are kept, and keeps them later: a crash in between swallows them. */
function keptLater(
  append: (entries: readonly StoredEntry[]) => Promise<unknown>,
  soon: (work: () => void) => void,
): ServerLog["append"] {
  return async (entries) => {
    soon(() => void append(entries).catch(() => {}));
    return { added: entries.map(({ id }) => id) };
  };
}

const converges = "all hold the same entries, byte for byte";

export const brokenExchanges: readonly BrokenExchange[] = [
  {
    name: "answers before what was pushed is on the server's disk",
    allowed: weathers.crashes,
    breaks: { serverLog: (log, soon) => ({ ...whole(log), append: keptLater((e) => log.append(e), soon) }) },
    caughtBy: "what was acknowledged is never gone",
  },
  {
    name: "skips at a cursor what was committed late",
    allowed: weathers.network,
    breaks: {
      serverLog: (log, soon) => {
        const open = new Set<string>();
        return {
          ...whole(log),
          append: async (entries) => {
            const appended = await log.append(entries);
            // Its place is given, and it is seen only later, as in a transaction that is still open.
            for (const id of appended.added) open.add(id);
            soon(() => {
              for (const id of appended.added) open.delete(id);
            });
            return appended;
          },
          since: async (position, limit, ledger) => {
            const page = await log.since(position, limit, ledger);
            return { ...page, rows: page.rows.filter(({ entry }) => !open.has(entry.id)) };
          },
        };
      },
    },
    caughtBy: converges,
  },
  {
    name: "keeps what is pushed a second time a second time",
    allowed: weathers.network,
    breaks: {
      serverLog: (log) => {
        let times = 0;
        return {
          ...whole(log),
          lacking: async (ids) => ids,
          append: async (entries) => {
            const unknown = new Set(await log.lacking(entries.map(({ id }) => id)));
            // A store without an eye on ids: the same again stands at a place of its own.
            const again = entries.map((entry) =>
              unknown.has(entry.id)
                ? entry
                : { ...entry, id: `ffff${(times++).toString(16).padStart(8, "0")}${entry.id.slice(12)}` },
            );
            return log.append(again);
          },
        };
      },
    },
    caughtBy: "what was pushed twice stands once",
  },
  {
    name: "does not raise the epoch after a restoration",
    allowed: weathers.restores,
    breaks: { session: () => "11111111" },
    caughtBy: "what was recorded reaches the server",
  },
  {
    name: "moves a device's cursor before the page is on its disk",
    allowed: weathers.crashes,
    breaks: {
      deviceLog: (log, soon) => ({ ...wholeDevice(log), append: keptLater((e) => log.append(e), soon) }),
    },
    caughtBy: converges,
  },
  {
    name: "takes silence for consent",
    allowed: weathers.network,
    breaks: {
      call: (send) => async (call) => {
        try {
          return await send(call);
        } catch (error) {
          if (call.kind !== "push" || !(error instanceof CallError)) throw error;
          const verdicts = call.entries.map(({ id }) => ({ id, verdict: "accepted", code: null }) as const);
          return { kind: "push", epoch: 1, verdicts, mark: call.seen ?? "1.0.00000000" } satisfies Answer;
        }
      },
    },
    caughtBy: "what was recorded reaches the server",
  },
  {
    name: "forgets at a restart what it had not handed over",
    allowed: weathers.crashes,
    breaks: {
      deviceLog: (log) => ({
        ...wholeDevice(log),
        writeNote: (name, text) => {
          const saved = text === null ? null : (JSON.parse(text) as { readonly through: number });
          const ahead = saved === null ? null : JSON.stringify({ ...saved, through: saved.through + 3 });
          return log.writeNote(name, ahead);
        },
      }),
    },
    caughtBy: "what was recorded reaches the server",
  },
  {
    name: "gives a part of a page and moves the cursor to its end",
    allowed: weathers.network,
    breaks: {
      serverLog: (log) => ({
        ...whole(log),
        since: async (position, limit, ledger) => {
          const page = await log.since(position, limit, ledger);
          return page.rows.length < limit ? page : { ...page, rows: page.rows.slice(0, -1) };
        },
      }),
    },
    caughtBy: converges,
  },
];

function wholeDevice(log: DeviceLog): DeviceLog {
  return {
    append: (entries) => log.append(entries),
    since: (position, limit) => log.since(position, limit),
    get: (id) => log.get(id),
    readNote: (name) => log.readNote(name),
    writeNote: (name, text) => log.writeNote(name, text),
  };
}

/** Whether, in some of the worlds, exactly what is named speaks against it. */
export async function isCaught({ breaks, allowed, caughtBy }: BrokenExchange, worlds = 12): Promise<boolean> {
  for (let seed = 1; seed <= worlds; seed += 1) {
    const { against } = await runWorld({ seed, allowed, breaks }, 400);
    if (against.includes(caughtBy)) return true;
  }
  return false;
}
