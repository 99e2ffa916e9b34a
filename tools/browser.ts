// The browser for tests: BROWSER_PATH when it is set, else the Chromium that lies packed in a package (Linux on x64),
// else Playwright's own or an installed Chrome.
//
// The package's own unpacking is not used: it takes any file that lies at a fixed place, half written or of another
// version, and starts the browser with its web security off.
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { brotliDecompressSync } from "node:zlib";

export type Browser = {
  /** Absent: what Playwright has, or `channel`. */
  readonly executablePath?: string;
  readonly channel?: string;
  readonly args: readonly string[];
  readonly env: Readonly<Record<string, string>>;
};

const root = dirname(import.meta.dirname);
const packed = join(root, "node_modules", "@sparticuz", "chromium");

const args = [
  // Tests also run as root in containers, where the sandbox cannot.
  "--no-sandbox",
  "--disable-quic",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** For a machine without fonts: the package's font, and its cache beside it. */
const fontSettings = (folder: string): string => `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${folder}/fonts</dir>
  <cachedir>${folder}/font-cache</cachedir>
</fontconfig>
`;

/** Unpacks on the first call, about two seconds; afterwards it only looks. */
export function findBrowser(): Browser {
  const { BROWSER_PATH } = process.env;
  if (BROWSER_PATH !== undefined && BROWSER_PATH !== "") {
    if (!existsSync(BROWSER_PATH)) throw new Error(`BROWSER_PATH: there is no file ${BROWSER_PATH}`);
    return { executablePath: BROWSER_PATH, args, env: {} };
  }
  if (process.platform === "linux" && process.arch === "x64" && existsSync(packed)) {
    const folder = unpacked();
    const executablePath = join(folder, "chromium");
    return { executablePath, args, env: missesLibraries(executablePath) ? librariesFrom(folder) : {} };
  }
  return process.env.PREEN_TEST_CHROME === undefined
    ? { args, env: {} }
    : { channel: "chrome", args, env: {} };
}

/** The folder with the unpacked browser. It appears under its name only when it is whole. */
function unpacked(): string {
  const { version } = JSON.parse(readFileSync(join(packed, "package.json"), "utf8")) as { version: string };
  const folder = join(root, "node_modules", ".cache", `chromium-${version}`);
  if (existsSync(folder)) return folder;
  const growing = `${folder}.${process.pid}`;
  rmSync(growing, { recursive: true, force: true });
  mkdirSync(growing, { recursive: true });
  const bytesOf = (name: string): Buffer =>
    brotliDecompressSync(readFileSync(join(packed, "bin", `${name}.br`)));
  writeFileSync(join(growing, "chromium"), bytesOf("chromium"), { mode: 0o755 });
  for (const name of ["al2023.tar", "fonts.tar"]) writeTar(bytesOf(name), growing);
  writeFileSync(join(growing, "fonts.conf"), fontSettings(folder));
  try {
    renameSync(growing, folder);
  } catch (error) {
    rmSync(growing, { recursive: true, force: true });
    // Another process was quicker; its folder is as good.
    if (!existsSync(folder)) throw error;
  }
  return folder;
}

/** Writes the plain files of a tar archive (POSIX ustar: 512-byte headers, size in octal at 124, type at 156). */
function writeTar(tar: Buffer, folder: string): void {
  const textAt = (from: number, to: number): string =>
    tar.toString("latin1", from, to).replace(/\0[^]*$/u, "");
  for (let at = 0; at + 512 <= tar.length && tar[at] !== 0;) {
    const name = textAt(at, at + 100);
    const size = Number.parseInt(textAt(at + 124, at + 136), 8);
    const isFile = ["", "0"].includes(textAt(at + 156, at + 157));
    if (isFile && !name.split("/").includes("..")) {
      const path = join(folder, name);
      mkdirSync(dirname(path), { recursive: true });
      writeFileSync(path, tar.subarray(at + 512, at + 512 + size), { mode: 0o755 });
    }
    at += 512 + Math.ceil(size / 512) * 512;
  }
}

/** True on a bare machine: the program loader does not find what the browser is linked to. */
function missesLibraries(executablePath: string): boolean {
  try {
    execFileSync(executablePath, ["--version"], { stdio: "ignore" });
    return false;
  } catch {
    return true;
  }
}

function librariesFrom(folder: string): Record<string, string> {
  return { LD_LIBRARY_PATH: join(folder, "lib"), FONTCONFIG_PATH: folder };
}
