import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { afterEach, describe, expect, test } from "vitest";
import { sampleEntries, sampleEntry, storeContract } from "./contract.ts";
import { SqliteFile } from "./sqlite-file.ts";
import { killRounds } from "./sqlite-kill.ts";
import { SqliteStore, ledgerSchema } from "./sqlite.ts";
import { StoreError } from "./store-error.ts";

const folders: string[] = [];
function freshFile(): string {
  const folder = mkdtempSync(join(tmpdir(), "preen-store-"));
  folders.push(folder);
  return join(folder, "ledger.sqlite");
}
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** Name and hash of every file of a folder, but for the shared memory and lock files, which hold no data. */
function bytesOf(file: string): readonly string[] {
  const folder = join(file, "..");
  return readdirSync(folder)
    .filter((name) => !name.endsWith("-shm") && !name.endsWith(".lock"))
    .filter((name) => statSync(join(folder, name)).size > 0)
    .sort()
    .map(
      (name) =>
        `${name} ${createHash("sha256")
          .update(readFileSync(join(folder, name)))
          .digest("hex")}`,
    );
}

function refusal(work: () => unknown): StoreError {
  try {
    work();
  } catch (error) {
    if (error instanceof StoreError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

async function filledFile(count = 300): Promise<string> {
  const file = freshFile();
  const store = new SqliteStore(file);
  await store.append(sampleEntries("craft:a", 0, count));
  await store.close();
  return file;
}

describe("The store in SQLite", () => {
  test.each(storeContract)("$title", async ({ run }) => {
    await run(async () => {
      const file = freshFile();
      return {
        open: async (hook) => new SqliteStore(file, hook === undefined ? {} : { onOperation: hook }),
        discard: async () => {},
      };
    });
  });

  test("writes ahead and waits for the disk at each commit", () => {
    const file = new SqliteFile(freshFile(), ledgerSchema);
    expect(file.get("PRAGMA journal_mode")).toEqual({ journal_mode: "wal" });
    expect(file.get("PRAGMA synchronous")).toEqual({ synchronous: 2 });
    file.close();
  });

  test("leaves no trace of an erased body in its files", async () => {
    const file = freshFile();
    const store = new SqliteStore(file);
    const secret = "a name that must go ".repeat(2_000);
    await store.append([{ ...sampleEntry("person:p", 1), body: secret }, sampleEntry("person:p", 2)]);
    const traces = (): boolean =>
      [file, `${file}-wal`].some((f) => existsSync(f) && readFileSync(f).includes("a name that must go"));
    expect(traces()).toBe(true);
    await store.erase([sampleEntry("person:p", 1).id]);
    expect(traces()).toBe(false);
    await store.close();
  });

  test("says that there is no room, keeps what was acknowledged, and goes on when there is room", async () => {
    const path = freshFile();
    const file = new SqliteFile(path, ledgerSchema);
    file.run("INSERT INTO note VALUES ('kept', 'yes')");
    file.all("PRAGMA max_page_count = 12");
    const error = refusal(() => file.run("INSERT INTO note VALUES ('big', ?)", "x".repeat(200_000)));
    expect(error.code).toBe("full");
    expect(error.message).toContain(path);
    expect(file.all("SELECT name FROM note")).toEqual([{ name: "kept" }]);
    file.all("PRAGMA max_page_count = 4294967294");
    file.run("INSERT INTO note VALUES ('big', ?)", "x".repeat(200_000));
    file.close();
  });
});

describe("A SQLite file that cannot be used is refused, named and left as it is", () => {
  const damages: readonly { title: string; code: string; damage: (file: string) => void }[] = [
    {
      title: "no database at all",
      code: "corrupted",
      damage: (f) => writeFileSync(f, "plain text\n".repeat(900)),
    },
    { title: "an empty file", code: "corrupted", damage: (f) => writeFileSync(f, "") },
    {
      title: "cut short",
      code: "corrupted",
      damage: (f) => writeFileSync(f, readFileSync(f).subarray(0, 20_000)),
    },
    {
      title: "a page in the middle overwritten",
      code: "corrupted",
      damage: (f) => writeFileSync(f, readFileSync(f).fill(0x5a, 40_960, 45_056)),
    },
    {
      title: "written by a newer version",
      code: "newer",
      damage: (f) => withDatabase(f, (db) => db.exec("PRAGMA user_version = 99")),
    },
    {
      title: "a database of another program",
      code: "foreign",
      damage: (f) => withDatabase(f, (db) => db.exec("PRAGMA application_id = 7")),
    },
  ];
  test.each(damages)("$title", async ({ code, damage }) => {
    const file = await filledFile();
    damage(file);
    const before = bytesOf(file);
    const error = refusal(() => new SqliteStore(file, { sole: true }));
    expect(error.code).toBe(code);
    expect(error.message.startsWith(`${file}: `)).toBe(true);
    expect(error.message.length).toBeGreaterThan(file.length + 40);
    expect(bytesOf(file)).toEqual(before);
  });

  test("missing while its write-ahead log is still there", async () => {
    const file = freshFile();
    writeFileSync(`${file}-wal`, "left over");
    const before = bytesOf(file);
    expect(refusal(() => new SqliteStore(file)).code).toBe("corrupted");
    expect(bytesOf(file)).toEqual(before);
  });

  test("in a folder that does not exist", () => {
    expect(refusal(() => new SqliteStore(join(freshFile(), "no", "where.sqlite"))).code).toBe("unavailable");
  });

  test("held by another process, as sole owner or by a lock that does not go away", async () => {
    const file = await filledFile();
    for (const hold of [
      `new DatabaseSync(process.argv[1] + ".lock").exec("BEGIN EXCLUSIVE")`,
      `new DatabaseSync(process.argv[1]).exec("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE")`,
    ]) {
      const script = `const { DatabaseSync } = require("node:sqlite"); ${hold}; console.log("held"); setInterval(() => {}, 1000)`;
      const child = spawn(process.execPath, ["-e", script, file], { stdio: ["ignore", "pipe", "inherit"] });
      await once(child.stdout, "data");
      const before = bytesOf(file);
      const error = refusal(() => new SqliteStore(file, { sole: true }));
      expect(error.code).toBe("locked");
      expect(error.message).toContain(file);
      expect(bytesOf(file)).toEqual(before);
      child.kill("SIGKILL");
      await once(child, "exit");
      const store = new SqliteStore(file, { sole: true });
      expect(await store.count()).toBe(300);
      await store.close();
    }
  });

  test("a second sole owner in the same process too, while readers may come", async () => {
    const file = await filledFile();
    const owner = new SqliteStore(file, { sole: true });
    expect(refusal(() => new SqliteStore(file, { sole: true })).code).toBe("locked");
    const reader = new SqliteStore(file);
    await owner.append([sampleEntry("craft:a", 4_000)]);
    expect(await reader.count()).toBe(301);
    await reader.close();
    await owner.close();
  });
});

describe("A SQLite file opened to be read only", () => {
  test("shows what a running owner writes, and writes nothing itself", async () => {
    const file = await filledFile(3);
    const owner = new SqliteStore(file, { sole: true });
    const reader = new SqliteStore(file, { readOnly: true });
    await owner.append([sampleEntry("craft:a", 4_000)]);
    expect(await reader.count()).toBe(4);
    await expect(reader.append([sampleEntry("craft:a", 5_000)])).rejects.toThrow("may not be written");
    await reader.close();
    await owner.close();
  });

  test("is not made when it is not there, and not grown when it is old", () => {
    const file = freshFile();
    expect(refusal(() => new SqliteStore(file, { readOnly: true })).code).toBe("unavailable");
    expect(readdirSync(join(file, ".."))).toEqual([]);
    new SqliteFile(file, { applicationId: ledgerSchema.applicationId, steps: [] }).close();
    const before = bytesOf(file);
    expect(refusal(() => new SqliteStore(file, { readOnly: true })).message).toContain("older version");
    expect(bytesOf(file)).toEqual(before);
  });
});

describe("A SQLite file grows step by step", () => {
  const one = { applicationId: 77, steps: ["CREATE TABLE a (x INTEGER) STRICT"] };
  const two = {
    ...one,
    steps: [...one.steps, "CREATE TABLE b (y INTEGER) STRICT; INSERT INTO b SELECT x FROM a"],
  };

  test("an old file gets the steps that it lacks and keeps its rows", () => {
    const path = freshFile();
    const old = new SqliteFile(path, one);
    old.run("INSERT INTO a VALUES (5)");
    old.close();
    const grown = new SqliteFile(path, two);
    expect(grown.all("SELECT y FROM b")).toEqual([{ y: 5 }]);
    grown.close();
    expect(refusal(() => new SqliteFile(path, one)).code).toBe("newer");
  });

  test("a step that fails is undone whole and the file stays at the version before", () => {
    const path = freshFile();
    new SqliteFile(path, one).close();
    const bad = {
      ...one,
      steps: [...one.steps, "CREATE TABLE b (y INTEGER); INSERT INTO nowhere VALUES (1)"],
    };
    expect(refusal(() => new SqliteFile(path, bad)).message).toContain(path);
    withDatabase(path, (db) => {
      expect({ ...db.prepare("PRAGMA user_version").get() }).toEqual({ user_version: 1 });
      expect(
        db
          .prepare("SELECT name FROM sqlite_schema")
          .all()
          .map((r) => r["name"]),
      ).toEqual(["a"]);
    });
  });

  test("a crash while the file is made leaves no half-made file behind", () => {
    const path = freshFile();
    const bad = { ...one, steps: ["CREATE TABLE a (x INTEGER)", "nonsense"] };
    refusal(() => new SqliteFile(path, bad));
    expect(readdirSync(join(path, ".."))).toEqual([]);
  });
});

describe("A killed process", () => {
  test("loses nothing that it had acknowledged and tears no snapshot (kill -9, five rounds)", async () => {
    const result = await killRounds(5, freshFile());
    expect(result.rounds).toBe(5);
    expect(result.acknowledged).toBeGreaterThan(5);
    expect(result.lost).toBe(0);
    expect(result.torn).toBe(0);
  }, 60_000);

  test("two processes write at once and nothing is lost or doubled", async () => {
    const file = freshFile();
    new SqliteFile(file, ledgerSchema).close();
    const script = join(import.meta.dirname, "sqlite-kill-child.ts");
    const children = [1, 2].map((n) =>
      spawn(process.execPath, [script, file, String(n * 1_000_000), "200"], {
        stdio: ["ignore", "pipe", "inherit"],
      }),
    );
    await Promise.all(children.map((child) => once(child, "exit")));
    expect(children.map((child) => child.exitCode)).toEqual([0, 0]);
    const store = new SqliteStore(file);
    expect(await store.count()).toBe(400);
    await store.close();
  }, 60_000);
});

function withDatabase(file: string, work: (db: DatabaseSync) => void): void {
  const db = new DatabaseSync(file);
  work(db);
  db.close();
}

test("the runtime that the tests use has SQLite built in", () => {
  expect(spawnSync(process.execPath, ["-p", "process.versions.sqlite"]).stdout.toString()).toMatch(/^3\.\d+/);
});
