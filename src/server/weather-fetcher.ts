// Fetches weather reports for the base's stations from a source that the operator names (PREEN_WEATHER_URL, off without).
//
// In: an address with `{station}` in it, answering plain text with METAR, SPECI and TAF. Out: entries of the base's ledger
// for what is not held yet, signed by the server. It times out, never blocks anything else, and takes nothing away: what
// is held stays, with its age. What cannot be taken for a report of the station asked is left out and told of.
import { msToInstant } from "../core/facts/instant.ts";
import type { BaseState } from "../core/facts/sky.ts";
import { readReport } from "../core/sky/read-report.ts";
import { baseLedger } from "../ledger/base/base-ledger.ts";
import { foldLedger } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import type { OperatorServer } from "./operator-server.ts";
import { serverPerson } from "./record.ts";

export type FetchOptions = {
  /** With `{station}` where its four letters go. */
  readonly url: string;
  readonly timeout_ms?: number;
  /** Told of every source that did not answer, or not with reports. */
  readonly onFault: (error: unknown, what: string) => void;
};

/** A page of reports is a few kilobytes. */
const bytesMax = 100_000;
const usualTimeout_ms = 10_000;
const every_ms = 10 * 60_000;

/** Fetches now and every ten minutes, one round at a time; `stop` ends it and waits for what is being written. */
export function startWeatherFetcher(
  server: OperatorServer,
  options: FetchOptions,
): { readonly stop: () => Promise<void> } {
  const ending = new AbortController();
  let round: Promise<unknown> | null = null;
  const begin = (): void => {
    round ??= fetchWeather(server, options, ending.signal)
      .catch((error: unknown) => options.onFault(error, "fetching the weather"))
      .finally(() => (round = null));
  };
  begin();
  const timer = setInterval(begin, every_ms);
  timer.unref();
  return {
    async stop() {
      clearInterval(timer);
      ending.abort();
      await round;
    },
  };
}

/** One round over every station of every base; answers with how many reports were new. */
export async function fetchWeather(
  server: OperatorServer,
  { url, timeout_ms = usualTimeout_ms, onFault }: FetchOptions,
  ending: AbortSignal = new AbortController().signal,
): Promise<number> {
  let added = 0;
  for (const base of new Set((server.record.operator?.state.bases ?? []).map((each) => each.base))) {
    const stations = new Set((await stateOf(server, base)).stations.map(({ station }) => station));
    const answers = await Promise.allSettled(
      [...stations].map(async (station) => {
        const address = url.replaceAll("{station}", encodeURIComponent(station));
        const signal = AbortSignal.any([ending, AbortSignal.timeout(timeout_ms)]);
        return reportsIn(await textAt(address, signal), station, server.now_ms());
      }),
    );
    if (ending.aborted) return added;
    for (const answer of answers)
      if (answer.status === "rejected") onFault(answer.reason, "fetching the weather");
    const heard = answers.flatMap((answer) => (answer.status === "fulfilled" ? answer.value : []));
    added += await keep(server, base, heard);
  }
  return added;
}

async function textAt(address: string, signal: AbortSignal): Promise<string> {
  const response = await fetch(address, { signal, headers: { accept: "text/plain" } });
  if (!response.ok) throw new Error(`${address} answered ${response.status}`);
  let text = "";
  const decoder = new TextDecoder();
  for await (const part of response.body ?? []) {
    text += decoder.decode(part, { stream: true });
    if (text.length > bytesMax) throw new Error(`${address} answered more than ${bytesMax} bytes`);
  }
  return text;
}

/** The reports of one station in a text: each begins a line with its kind and goes on until the next. */
export function reportsIn(text: string, station: string, near_ms: number): readonly string[] {
  const begins = /^(?:METAR|SPECI|TAF)\b/u;
  const reports: string[] = [];
  for (const line of text.split(/\r?\n/u).map((each) => each.trim())) {
    if (begins.test(line)) reports.push(line);
    else if (line === "") reports.push("");
    else if (reports.length > 0 && reports.at(-1) !== "") reports.push(`${reports.pop()} ${line}`);
  }
  return reports.filter(
    (report) => report.length <= 2_000 && readReport(report, near_ms).station === station,
  );
}

async function stateOf({ record }: OperatorServer, base: string): Promise<BaseState> {
  const entries = (await record.store.ofLedger(base)).map(reopenEntry);
  return foldLedger(baseLedger, entries, record.trust).state;
}

/** Writes what is not held, in a turn of the exchange like everything that is written. */
function keep(server: OperatorServer, base: string, texts: readonly string[]): Promise<number> {
  const { record, keyring, exchange } = server;
  return exchange.inTurn(async () => {
    const held = new Set((await stateOf(server, base)).reports.map(({ text }) => text));
    const fresh = [...new Set(texts)].filter((text) => !held.has(text));
    for (const text of fresh) {
      const body = { text, source: "fetched", at: msToInstant(server.now_ms()), replaces: [] };
      await record.append([
        await record.seal(keyring.server, serverPerson, { ledger: base, type: "weather.heard", body }),
      ]);
    }
    return fresh.length;
  });
}
