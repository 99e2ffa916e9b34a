// How the server is told what to do: a few environment variables, read once, every fault named at once.
import { join, resolve } from "node:path";
import { demoSpans } from "../../demo/cast.ts";
import type { DemoSpan } from "../../demo/cast.ts";
import { isInstantText } from "../core/facts/instant.ts";

export type Mode = "demo" | "operator";

export type Settings = {
  readonly mode: Mode;
  /** Where database, directory, keys and sheets of this mode lie. */
  readonly folder: string;
  /** 0: any free one. */
  readonly port: number;
  /** Address to listen on; the loopback ones by default. */
  readonly bind: string;
  /** Address under which a proxy shows this server to tablets, as https://preen.example.org; null without one. */
  readonly origin: string | null;
  /** Instant at which the clock starts, to show or test the demo at a time of day; null for the machine's clock. */
  readonly startAt_ms: number | null;
  /** How far back the demo's record goes, where it has to be made first. */
  readonly demoSpan: DemoSpan;
  /** Where weather reports are fetched, with `{station}` in it; null: not at all. */
  readonly weatherUrl: string | null;
};

export type SettingFault = { readonly name: string; readonly found: string; readonly wanted: string };

/** 4717 stands for nothing; it is not among the ports that the usual tools of developers take. */
export const usualPort = 4717;

type Env = Readonly<Record<string, string | undefined>>;

/** Settings, or every fault. An empty variable counts as absent. */
export function settingsFrom(env: Env, root: string): Settings | readonly SettingFault[] {
  const faults: SettingFault[] = [];
  const given = (name: string): string | null => (env[name] === "" ? null : (env[name] ?? null));
  const checked = (name: string, holds: (text: string) => boolean, wanted: string): string | null => {
    const found = given(name);
    if (found === null || holds(found)) return found;
    faults.push({ name, found, wanted });
    return null;
  };
  const mode =
    checked("PREEN_MODE", (text) => text === "demo" || text === "operator", "demo or operator") ?? "demo";
  const port = checked("PREEN_PORT", isPort, "a whole number from 0 to 65535");
  const origin = checked("PREEN_ORIGIN", isOrigin, "an address such as https://preen.example.org, no path");
  const at = checked("PREEN_AT", isInstantText, "an instant of the form YYYY-MM-DDTHH:MM:SS.mmmZ");
  if (at !== null && mode === "operator")
    faults.push({ name: "PREEN_AT", found: at, wanted: "nothing: only the demo's clock may be set" });
  const isSpan = (text: string): text is DemoSpan => (demoSpans as readonly string[]).includes(text);
  const span = checked("PREEN_DEMO", isSpan, demoSpans.join(" or "));
  if (span !== null && mode === "operator")
    faults.push({ name: "PREEN_DEMO", found: span, wanted: "nothing: an operator's record is not invented" });
  const weatherUrl = checked(
    "PREEN_WEATHER_URL",
    isWeatherUrl,
    "an http or https address with {station} in it",
  );
  if (faults.length > 0) return faults;
  return {
    mode: mode as Mode,
    folder: resolve(root, given("PREEN_DATA") ?? join("var", mode)),
    port: port === null ? usualPort : Number(port),
    bind: given("PREEN_BIND") ?? "localhost",
    origin,
    startAt_ms: at === null ? null : Date.parse(at),
    demoSpan: span === null ? "months" : (span as DemoSpan),
    weatherUrl,
  };
}

function isPort(text: string): boolean {
  return /^\d{1,5}$/u.test(text) && Number(text) <= 65_535;
}

function isOrigin(text: string): boolean {
  return URL.canParse(text) && new URL(text).origin === text && /^https?:/u.test(text);
}

function isWeatherUrl(text: string): boolean {
  return (
    text.includes("{station}") && /^https?:/u.test(text) && URL.canParse(text.replaceAll("{station}", "ZZZZ"))
  );
}

/** The server's clock: the machine's, or one that starts at an instant and runs on. */
export function clockFrom({ startAt_ms }: Pick<Settings, "startAt_ms">): () => number {
  if (startAt_ms === null) return () => Date.now();
  const began_ms = performance.now();
  return () => startAt_ms + Math.floor(performance.now() - began_ms);
}
