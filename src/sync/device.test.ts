import { describe, expect, test } from "vitest";
import { sampleEntry } from "../store/contract.ts";
import {
  type DeviceEvent,
  type DeviceState,
  type Effect,
  savedOf,
  startDevice,
  stepDevice,
} from "./device.ts";
import { deviceLimits } from "./device.ts";
import { CallError, Exchanger } from "./exchanger.ts";
import { type Ending, type PullAnswer, endings } from "./message.ts";
import { MemoryStore, makeMemoryDisk } from "../store/memory.ts";

const now_ms = 1_900_000_000_000;
const wake: DeviceEvent = { kind: "wake", now_ms, force: false };

/** Steps through events; `effects` are those of the last one. */
function run(
  state: DeviceState,
  ...events: readonly DeviceEvent[]
): { state: DeviceState; effects: readonly Effect[] } {
  let effects: readonly Effect[] = [];
  let at = state;
  for (const event of events) ({ state: at, effects } = stepDevice(at, event));
  return { state: at, effects };
}

function scannedOf(request: number, ids: readonly string[], more = false): DeviceEvent {
  const rows = ids.map((id, i) => ({ position: i + 1, id, bytes: 500 }));
  return { kind: "scanned", request, rows, more, now_ms };
}

function pageOf(part: Partial<PullAnswer> = {}): PullAnswer {
  return {
    kind: "pull",
    epoch: 1,
    entries: [],
    cursor: "1.4.00000001",
    more: false,
    restarted: false,
    serverTime: "2031-04-01T06:40:00.000Z",
    ...part,
  };
}

function failedOf(request: number, reason: "offline" | "tooLarge" | "tokenRefused", chance = 0): DeviceEvent {
  return { kind: "failed", request, reason, retryAfter_ms: null, now_ms, chance };
}

function planOf(effects: readonly Effect[]): string {
  return effects.map((e) => (e.kind === "call" ? e.plan.kind : e.kind)).join(" ");
}

/** A device in the middle of pushing ids a and b as request 2. */
const pushing = run(startDevice(null), wake, scannedOf(1, ["a", "b"])).state;

describe("The device's half of the exchange", () => {
  test("scans, pushes, pulls, scans again and is done", () => {
    let { state, effects } = run(startDevice(null), wake);
    expect(planOf(effects)).toBe("scan");
    ({ state, effects } = run(state, scannedOf(1, ["a"])));
    expect(planOf(effects)).toBe("push");
    const verdicts = [{ id: "a", verdict: "accepted", code: null }] as const;
    ({ state, effects } = run(state, {
      kind: "answered",
      request: 2,
      answer: { kind: "push", epoch: 1, verdicts, mark: "1.2.00000001" },
      now_ms,
    }));
    expect(planOf(effects)).toBe("save pull");
    ({ state, effects } = run(state, { kind: "answered", request: 3, answer: pageOf(), now_ms }));
    expect(planOf(effects)).toBe("keep");
    expect(state.cursor).toBeNull();
    ({ state, effects } = run(state, {
      kind: "kept",
      request: 4,
      added: ["r"],
      unreadable: { x: "signatureWrong" },
    }));
    expect(planOf(effects)).toBe("save scan");
    ({ state, effects } = run(state, {
      kind: "scanned",
      request: 5,
      rows: [{ position: 2, id: "r", bytes: 9 }],
      more: false,
      now_ms: now_ms + 5,
    }));
    expect(planOf(effects)).toBe("save");
    expect(state.last).toEqual({ ending: "done", at_ms: now_ms + 5 });
    expect(state.lastDone).toEqual({ device_ms: now_ms + 5, server: "2031-04-01T06:40:00.000Z" });
    expect(savedOf(state)).toEqual({
      epoch: 1,
      cursor: "1.4.00000001",
      seen: "1.2.00000001",
      through: 2,
      setAside: { x: "signatureWrong" },
      lastDone: state.lastDone,
    });
  });

  test("begins again when it was woken while busy, for the entry that came after the last scan", () => {
    const { state } = run(startDevice(null), wake, scannedOf(1, []));
    const busy = run(state, wake).state;
    expect(busy.again).toBe(true);
    const { state: after, effects } = run(
      busy,
      { kind: "answered", request: 2, answer: pageOf(), now_ms },
      { kind: "kept", request: 3, added: [], unreadable: {} },
      { kind: "scanned", request: 4, rows: [], more: false, now_ms },
    );
    expect(planOf(effects)).toBe("save scan");
    expect([after.phase.kind, after.again, after.last?.ending]).toEqual(["scan", false, "done"]);
  });

  test("ignores answers that are late, doubled or not asked for", () => {
    for (const event of [
      { kind: "answered", request: 1, answer: pageOf(), now_ms },
      { kind: "answered", request: 3, answer: pageOf(), now_ms },
      { kind: "kept", request: 2, added: [], unreadable: {} },
      scannedOf(1, ["late"]),
      scannedOf(2, ["not asked"]),
      failedOf(1, "offline"),
    ] satisfies DeviceEvent[]) {
      expect(run(pushing, event)).toEqual({ state: pushing, effects: [] });
    }
    const stopped = run(pushing, { kind: "stop", now_ms }).state;
    expect(stopped.last?.ending).toBe("stopped");
    expect(run(stopped, failedOf(2, "offline"))).toEqual({ state: stopped, effects: [] });
  });

  test("keeps an entry pending until a verdict names it", () => {
    const answer = { kind: "push", epoch: 1, verdicts: [], mark: "1.2.00000001" } as const;
    const { state } = run(pushing, { kind: "answered", request: 2, answer, now_ms });
    expect(state.last?.ending).toBe("badAnswer");
    expect(state.pending.map((p) => p.id)).toEqual(["a", "b"]);
    expect(savedOf(state).through).toBe(0);
  });

  test("sets an unreadable entry aside, with why, and never sends it again", () => {
    const verdicts = [
      { id: "a", verdict: "notKept", code: "signatureWrong" },
      { id: "b", verdict: "refused", code: "revoked" },
    ] as const;
    const answer = { kind: "push", epoch: 1, verdicts, mark: "1.2.00000001" } as const;
    const { state, effects } = run(pushing, { kind: "answered", request: 2, answer, now_ms });
    expect(state.setAside).toEqual({ a: "signatureWrong" });
    expect(planOf(effects)).toBe("save pull");
    const again = run(startDevice(savedOf({ ...state, scanned: 0 })), wake, scannedOf(1, ["a"]));
    expect(planOf(again.effects)).toBe("pull");
  });

  test("asks before it pushes many, and pushes only what is wanted", () => {
    const ids = Array.from({ length: 50 }, (_, i) => `id${i}`);
    const { state, effects } = run(startDevice(null), wake, scannedOf(1, ids));
    expect(planOf(effects)).toBe("offer");
    const answer = { kind: "offer", epoch: 1, wanted: ["id7", "id9"], mark: "1.60.00000001" } as const;
    const after = run(state, { kind: "answered", request: 2, answer, now_ms });
    expect(planOf(after.effects)).toBe("save push");
    expect(after.state.phase).toMatchObject({ ids: ["id7", "id9"] });
    expect(savedOf(after.state)).toMatchObject({ through: 7, seen: "1.60.00000001" });
  });

  test("forgets what the server was known to hold when the epoch rises, and scans from the start", () => {
    const known = { ...pushing, epoch: 1, cursor: "1.4.00000001", seen: "1.2.00000001", scanned: 9 };
    const { state, effects } = run(known, { kind: "answered", request: 2, answer: pushAnswer(2), now_ms });
    expect(effects).toMatchObject([
      { kind: "save", saved: { epoch: 2, cursor: null, seen: null, through: 0 } },
      { kind: "scan", after: 0 },
    ]);
    expect(state.pending).toEqual([]);
  });

  test("gives up on a server whose epoch never stands still", () => {
    let state: DeviceState = { ...pushing, epoch: 1 };
    for (let epoch = 2; state.phase.kind !== "idle"; epoch++) {
      expect(epoch).toBeLessThan(10);
      state = run(state, {
        kind: "answered",
        request: state.request,
        answer: pushAnswer(epoch),
        now_ms,
      }).state;
      if (state.phase.kind === "scan") state = run(state, scannedOf(state.request, ["a", "b"])).state;
    }
    expect(state.last?.ending).toBe("badAnswer");
  });

  test("halves a batch that is too large, and sets a single entry aside that never fits", () => {
    let { state } = run(pushing, failedOf(2, "tooLarge"));
    expect(state.phase).toMatchObject({ kind: "push", ids: ["a"] });
    ({ state } = run(state, failedOf(3, "tooLarge")));
    expect(state.setAside).toEqual({ a: "tooLarge" });
    expect(state.phase).toMatchObject({ kind: "push", ids: ["b"] });
  });

  test("fills a batch up to its bytes, with one entry at least", () => {
    const limits = { ...deviceLimits, bytesPerPush: 1_200 };
    const { state } = run(startDevice(null, limits), wake, scannedOf(1, ["a", "b", "c"]));
    expect(state.phase).toMatchObject({ ids: ["a", "b"] });
    const tight = run(startDevice(null, { ...limits, bytesPerPush: 1 }), wake, scannedOf(1, ["a", "b"]));
    expect(tight.state.phase).toMatchObject({ ids: ["a"] });
  });

  test("waits longer after each failure, spread by chance, never longer than the limit, then at once after success", () => {
    let state = startDevice(null);
    const waits: number[] = [];
    for (let n = 0; n < 12; n++) {
      state = run(
        state,
        { kind: "wake", now_ms, force: true },
        failedOf(state.request + 1, "offline", 1),
      ).state;
      waits.push(state.waitUntil_ms! - now_ms);
    }
    expect(waits.slice(0, 4)).toEqual([2_000, 4_000, 8_000, 16_000]);
    expect(waits.at(-1)).toBe(300_000);
    const half = run(startDevice(null), wake, failedOf(1, "offline", 0)).state;
    expect(half.waitUntil_ms! - now_ms).toBe(1_000);
    expect(run(half, wake)).toEqual({ state: half, effects: [{ kind: "wakeAt", at_ms: half.waitUntil_ms }] });
    expect(planOf(run(half, { ...wake, now_ms: now_ms + 1_000 }).effects)).toBe("scan");
  });

  test("does as the server says when it names a time to wait", () => {
    const event: DeviceEvent = {
      ...failedOf(2, "offline"),
      reason: "tooFast",
      retryAfter_ms: 60_000,
    } as DeviceEvent;
    expect(run(pushing, event).state.waitUntil_ms).toBe(now_ms + 60_000);
  });

  test("does not knock by itself where a person is needed", () => {
    const { state } = run(pushing, failedOf(2, "tokenRefused"));
    expect(run(state, wake)).toEqual({ state, effects: [] });
    expect(planOf(run(state, { kind: "wake", now_ms, force: true }).effects)).toBe("scan");
  });

  test("has a closed set of endings, each of which either settles, waits or needs a person", () => {
    const kinds = Object.keys(endings).map((ending) => endings[ending as Ending]);
    expect(new Set(kinds)).toEqual(new Set(["settled", "waits", "person"]));
  });
});

function pushAnswer(epoch: number): { kind: "push"; epoch: number; verdicts: []; mark: string } {
  return { kind: "push", epoch, verdicts: [], mark: `${epoch}.2.00000001` };
}

describe("The exchanger", () => {
  async function exchangerOf(store: MemoryStore, call: () => Promise<PullAnswer>): Promise<Exchanger> {
    return Exchanger.start({
      log: store,
      call,
      screen: async (entries) => ({ readable: entries, unreadable: {} }),
      now_ms: () => now_ms,
      chance: () => 0.5,
      wakeAt: () => {},
    });
  }

  test("ends with the reason that the connection gave", async () => {
    const exchanger = await exchangerOf(new MemoryStore(), async () => {
      throw new CallError("offline");
    });
    await exchanger.wake();
    expect(exchanger.state.last?.ending).toBe("offline");
  });

  test("blames its own store when that fails, and takes the page the next time", async () => {
    let broken = false;
    let failing = true;
    const store = new MemoryStore(makeMemoryDisk(), () => {
      if (broken) throw new Error("no room");
    });
    const exchanger = await exchangerOf(store, async () => {
      broken = failing;
      return pageOf({ entries: [sampleEntry("craft:a", 2)] });
    });
    await exchanger.wake();
    expect([exchanger.state.last?.ending, exchanger.state.cursor]).toEqual(["storeFailed", null]);
    [broken, failing] = [false, false];
    expect(await store.count()).toBe(0);
    await exchanger.wake(true);
    expect([exchanger.state.last?.ending, await store.count()]).toEqual(["done", 1]);
  });
});
