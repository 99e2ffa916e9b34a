import {
  chmodSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { foldLedger } from "../ledger/fold.ts";
import { holdsRole } from "../ledger/acceptance.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import { demoCraft, demoPeople } from "../../demo/cast.ts";
import { demoGreeting } from "./demo-greeting.ts";
import { openOperatorServer } from "./operator-server.ts";
import { SampleServer } from "./sample-server.ts";
import { isDemoKey } from "./seed-demo.ts";

let sample: SampleServer;
beforeEach(async () => {
  sample = new SampleServer();
  await sample.open();
});
afterEach(async () => {
  rmSync(sample.folder, { recursive: true, force: true });
});

async function refusalOf(work: Promise<unknown>): Promise<string> {
  return work.then(
    () => "not refused",
    (error: unknown) => (error instanceof Error ? `${error.name}: ${error.message}` : String(error)),
  );
}

describe("An operator's folder", () => {
  test("starts empty, with keys that only its user may read", async () => {
    expect(await sample.server.record.store.count()).toBe(0);
    expect(sample.server.record.operator).toBeNull();
    const keys = join(sample.folder, "keys.json");
    if (process.platform !== "win32") expect(statSync(keys).mode & 0o777).toBe(0o600);
    expect(JSON.parse(readFileSync(keys, "utf8"))).toMatchObject({ v: 1 });
    await sample.close();
  });

  test("comes back as it was left", async () => {
    await sample.found();
    const device = await sample.enrol("p-one", "1111");
    await device.push([await device.openCraft()]);
    const [key, entries] = [sample.server.keyring.root.key, await device.pullAll()];
    await sample.close();
    await sample.open();
    expect(sample.server.keyring.root.key).toBe(key);
    expect(await device.pullAll()).toEqual(entries);
    expect(sample.server.exchange.epoch).toBe(1);
    await sample.close();
  });

  test("is held by one server at a time", async () => {
    expect(await refusalOf(new SampleServer(sample.folder).open())).toMatch(
      /StoreError: .*preen\.db: is in use/u,
    );
    await sample.close();
  });

  test("of the other mode is refused and left alone", async () => {
    await sample.close();
    const before = readdirSync(sample.folder).toSorted();
    const refusal = await refusalOf(openOperatorServer({ mode: "demo", folder: sample.folder }, () => 0));
    expect(refusal).toContain(`${sample.folder}: holds the record of mode operator`);
    expect(refusal).toContain("PREEN_DATA");
    expect(readdirSync(sample.folder).toSorted()).toEqual(before);
  });

  test("whose database is gone is not begun anew", async () => {
    await sample.close();
    rmSync(join(sample.folder, "preen.db"));
    expect(await refusalOf(sample.open())).toMatch(/StartError: .*preen\.db: is missing, although/u);
    expect(existsSync(join(sample.folder, "preen.db"))).toBe(false);
  });

  test("whose keys others may read, or are damaged, is refused", async () => {
    await sample.close();
    const keys = join(sample.folder, "keys.json");
    if (process.platform !== "win32") {
      chmodSync(keys, 0o644);
      expect(await refusalOf(sample.open())).toContain(`chmod 600 ${keys}`);
      chmodSync(keys, 0o600);
    }
    writeFileSync(keys, "{}");
    expect(await refusalOf(sample.open())).toContain(`${keys}: is not a file of keys`);
    expect(readFileSync(keys, "utf8")).toBe("{}");
  });

  test("that cannot be made is named", async () => {
    await sample.close();
    const refusal = await refusalOf(
      openOperatorServer({ mode: "operator", folder: join(sample.folder, "keys.json", "sub") }, () => 0),
    );
    expect(refusal).toMatch(/^StartError: .*cannot be made .*PREEN_DATA/u);
  });

  test("is closed whole when its opening fails, so that a second try finds it free", async () => {
    await sample.close();
    const keys = join(sample.folder, "keys.json");
    const good = readFileSync(keys, "utf8");
    writeFileSync(keys, "broken");
    expect(await refusalOf(sample.open())).toContain("keys.json");
    writeFileSync(keys, good);
    await sample.open();
    await sample.close();
  });
});

describe("A database restored from a backup", () => {
  test("raises the epoch and takes a new server key before it writes, so that no chain forks", async () => {
    await sample.found();
    const device = await sample.enrol("p-one", "1111");
    await device.push([await device.openCraft()]);
    await sample.close();
    const backup = mkdtempSync(join(tmpdir(), "preen-backup-"));
    cpSync(join(sample.folder, "preen.db"), join(backup, "preen.db"));
    await sample.open();
    const lost = [
      await device.write("craft:one", "event.noted", { n: 1 }),
      await device.write("craft:one", "event.noted", { n: 2 }),
    ];
    for (const entry of lost) await device.push([entry]);
    const everything = await device.pullAll();
    const oldKey = sample.server.keyring.server.key;
    await sample.close();

    cpSync(join(backup, "preen.db"), join(sample.folder, "preen.db"));
    rmSync(backup, { recursive: true });
    await sample.open();
    expect(sample.server.exchange.epoch).toBe(2);
    const { server } = sample.server.keyring;
    expect(server.key).not.toBe(oldKey);
    expect(holdsRole(sample.server.record.trust, server.key, "server")).toBe(true);
    const until = (key: string) =>
      sample.server.record.trust.certificates[key]!.map(({ until_ms }) => until_ms);
    expect([until(oldKey), until(server.key)]).toEqual([[sample.now_ms + 1], [null]]);
    // The device offers everything that it holds, the receipts of the lost time included.
    const { body } = await sample.post<{ wanted: string[] }>(
      "/api/offer",
      { ids: everything.map(({ id }) => id) },
      device.token,
    );
    const wanted = everything.filter(({ id }) => body.wanted.includes(id));
    expect(wanted.length).toBe(4);
    const { body: pushed } = await device.push(wanted);
    expect(pushed.verdicts.map(({ verdict, code }) => [verdict, code])).toEqual(
      wanted.map(() => ["accepted", null]),
    );
    const after = await device.pullAll();
    const trust = sample.server.record.trust;
    const opened = after.map(reopenEntry);
    const craft = foldLedger(
      craftLedger,
      opened.filter((o) => o.envelope.ledger === "craft:one"),
      trust,
    );
    expect(craft.aside.map(({ code }) => code)).not.toContain("fork");
    expect(lost.map(({ id }) => craft.receipts.get(id)?.verdict)).toEqual(["accepted", "accepted"]);
    await sample.close();
    await sample.open();
    expect(sample.server.exchange.epoch).toBe(2);
    await sample.close();
  });

  test("is found out by a device's mark when nothing on the server's own disk tells", async () => {
    await sample.found();
    const device = await sample.enrol("p-one", "1111");
    await device.push([await device.openCraft()]);
    await sample.close();
    const backup = mkdtempSync(join(tmpdir(), "preen-backup-"));
    cpSync(sample.folder, backup, { recursive: true });
    await sample.open();
    const { body } = await device.push([await device.write("craft:one", "event.noted", {})]);
    const oldKey = sample.server.keyring.server.key;
    await sample.close();
    rmSync(sample.folder, { recursive: true });
    cpSync(backup, sample.folder, { recursive: true });
    rmSync(backup, { recursive: true });
    await sample.open();
    expect(sample.server.exchange.epoch).toBe(1);
    const answer = await sample.get<{ epoch: number }>(`/api/pull?seen=${body.mark}`, device.token);
    expect(answer.body.epoch).toBe(2);
    expect(sample.server.keyring.server.key).not.toBe(oldKey);
    await sample.close();
  });
});

describe("The demo's folder", () => {
  test("is filled through the same way as real entries, once, and all of it counts", async () => {
    await sample.close();
    const folder = join(sample.folder, "demo");
    const now_ms = Date.parse("2031-04-01T06:40:00.000Z");
    const open = () => openOperatorServer({ mode: "demo", folder }, () => now_ms, { pinCost: 16 });
    const first = await open();
    const count = await first.record.store.count();
    const operator = foldLedger(
      operatorLedger,
      (await first.record.store.ofLedger(first.record.operator!.ledger)).map(reopenEntry),
      operatorLedger.initial.trust,
    );
    expect(operator.aside).toEqual([]);
    for (const { ledger } of demoCraft) {
      const entries = (await first.record.store.ofLedger(ledger)).map(reopenEntry);
      const folded = foldLedger(craftLedger, entries, operator.state.trust);
      expect(folded.aside).toEqual([]);
      const pending = folded.ordered.filter(
        ({ id, envelope }) => envelope.type !== "receipt" && !folded.receipts.has(id),
      );
      expect([ledger, pending.length]).toEqual([ledger, 0]);
    }
    expect(
      first.directory
        .people()
        .map(({ id }) => id)
        .toSorted(),
    ).toEqual(demoPeople.map(({ id }) => id).toSorted());
    expect(first.sheets.hashes().length).toBe(1);
    const greeting = (await demoGreeting(first)).join("\n");
    for (const { pin, name } of demoPeople) expect(greeting).toMatch(new RegExp(`${name}.*${pin}`, "u"));
    await first.close();
    const second = await open();
    expect(await second.record.store.count()).toBe(count);
    expect(existsSync(join(folder, "keys.json"))).toBe(false);
    await second.close();
  }, 60_000);

  test("has keys that an operator's server knows as the demo's", () => {
    expect(isDemoKey(sample.server.keyring.server.key)).toBe(false);
    expect(isDemoKey("00")).toBe(false);
  });
});
