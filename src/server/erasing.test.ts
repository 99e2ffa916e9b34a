// An erasure that the disk does not let through at once: it is carried out by the next try, or at the next start, and until
// then nobody is told that it was.
import { afterEach, beforeEach, expect, test } from "vitest";
import type { Store } from "../store/store.ts";
import { SampleServer } from "./sample-server.ts";
import type { SampleDevice } from "./sample-server.ts";

let sample: SampleServer;
let admin: SampleDevice;
let told: string;
beforeEach(async () => {
  sample = new SampleServer();
  await sample.open();
  await sample.found();
  admin = await sample.enrol("p-admin", "9999");
  const opened = await admin.openCraft("one");
  const entry = await admin.write("craft:one", "event.noted", { event: "e", words: "too much" });
  await admin.push([opened, entry]);
  await admin.pullAll();
  told = entry.id;
});
afterEach(() => sample.remove());

const erasure = () =>
  admin.write("craft:one", "erase", { entry: told, role: "administrator", legalReason: "asked for" });
const body = async (): Promise<string | null | undefined> =>
  (await sample.server.record.store.get(told))?.body;

/** The store's next erasure fails. */
function failOnce(): void {
  const { store } = sample.server.record;
  const erase = store.erase.bind(store);
  let failed = false;
  (store as { erase: Store["erase"] }).erase = (ids) => {
    if (failed) return erase(ids);
    failed = true;
    return Promise.reject(new Error("no room"));
  };
}

test("An erasure that failed on the disk is carried out when it is offered again", async () => {
  const entry = await erasure();
  failOnce();
  expect((await admin.push([entry])).status).toBe(500);
  expect(await body()).toContain("too much");
  expect((await admin.push([entry])).body.verdicts).toEqual([{ id: entry.id, verdict: "held", code: null }]);
  expect(await body()).toBeNull();
});

test("An erasure that a crash cut off is carried out at the next start, before anybody is answered", async () => {
  const entry = await erasure();
  failOnce();
  expect((await admin.push([entry])).status).toBe(500);
  await sample.close();
  await sample.open();
  expect(await body()).toBeNull();
  expect(await sample.server.record.store.readNote("erasing")).toBeNull();
});

test("A later entry reads the ledger again only where an erasure may begin to hold by it", async () => {
  await admin.push([await erasure()]);
  expect(await body()).toBeNull();
  const { store } = sample.server.record;
  const ofLedger = store.ofLedger.bind(store);
  let read = 0;
  (store as { ofLedger: Store["ofLedger"] }).ofLedger = (ledger) => {
    read += 1;
    return ofLedger(ledger);
  };
  await admin.push([await admin.write("craft:one", "event.noted", { event: "e", words: "another" })]);
  expect(read).toBe(0);
});
