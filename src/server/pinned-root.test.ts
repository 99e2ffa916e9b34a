// The operator's key is given to the server from outside the record, and the record is held to it.
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { rootNote } from "../store/store.ts";
import { SampleServer } from "./sample-server.ts";

let sample: SampleServer;
beforeEach(async () => {
  sample = new SampleServer();
  await sample.open();
  await sample.found();
});
afterEach(() => rmSync(sample.folder, { recursive: true, force: true }));

test("A record beside another operator's keys is not opened, and nobody can found it a second time", async () => {
  const keys = join(sample.folder, "keys.json");
  const kept = readFileSync(keys, "utf8");
  await sample.close();
  rmSync(keys);
  await expect(sample.open()).rejects.toThrow(/keys\.json: is not the file of keys that this record was/u);
  writeFileSync(keys, kept, { mode: 0o600 });
  await sample.open();
  expect(sample.founding.isDue).toBe(false);
  await sample.close();
});

test("The public half of the operator's key is left in the store for tools, and nothing of the private one", async () => {
  const { store } = sample.server.record;
  expect(await store.readNote(rootNote)).toBe(sample.server.keyring.root.key);
  const { root } = JSON.parse(readFileSync(join(sample.folder, "keys.json"), "utf8")) as { root: string };
  await sample.close();
  expect(readFileSync(join(sample.folder, "preen.db")).includes(root)).toBe(false);
});

test("An erasure by somebody without the right removes nothing; one by right does, and only what it names", async () => {
  const engineer = await sample.enrol("p-two", "2222");
  const administrator = await sample.enrol("p-admin", "9999");
  const [craft, other] = [await engineer.openCraft("one"), await engineer.openCraft("two")];
  await engineer.push([craft, other]);
  await administrator.pullAll();
  const bodyOf = async (id: string) => (await sample.server.record.store.get(id))?.body ?? null;
  const erase = { entry: craft.id, role: "administrator", legalReason: "asked for" };
  // In another craft's ledger it names an entry that is not there.
  await administrator.push([await administrator.write("craft:two", "erase", erase)]);
  await engineer.push([await engineer.write("craft:one", "erase", erase)]);
  await administrator.pullAll();
  expect(await bodyOf(craft.id)).not.toBe(null);
  await administrator.push([await administrator.write("craft:one", "erase", erase)]);
  expect(await bodyOf(craft.id)).toBe(null);
  expect(await bodyOf(other.id)).not.toBe(null);
  await sample.close();
});
