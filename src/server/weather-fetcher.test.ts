import { createServer } from "node:http";
import type { Server, ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { baseLedger } from "../ledger/base/base-ledger.ts";
import { foldLedger } from "../ledger/fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { openOperatorServer } from "./operator-server.ts";
import type { OperatorServer } from "./operator-server.ts";
import { fetchWeather, reportsIn, startWeatherFetcher } from "./weather-fetcher.ts";

const now_ms = Date.parse("2026-11-25T09:30:00.000Z");
const base = "base:skarvoy";
const metar = "METAR ZZSK 250920Z 23014KT 4000 -SN BKN009 01/M01 Q1004";

const folder = mkdtempSync(join(tmpdir(), "preen-weather-"));
let server: OperatorServer;
let source: Server;
let url: string;
let answer: (station: string, reply: ServerResponse) => void;
let faults: unknown[];

beforeAll(async () => {
  server = await openOperatorServer({ mode: "demo", folder }, () => now_ms, { pinCost: 16 });
  source = createServer((request, reply) => answer(request.url?.slice(1) ?? "", reply));
  await new Promise<void>((resolve) => source.listen(0, "localhost", resolve));
  url = `http://localhost:${(source.address() as AddressInfo).port}/{station}`;
});
afterAll(async () => {
  source.closeAllConnections();
  source.close();
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});
beforeEach(() => {
  faults = [];
});
async function folded() {
  const entries = (await server.record.store.ofLedger(base)).map(reopenEntry);
  return foldLedger(baseLedger, entries, server.record.trust);
}

async function texts(): Promise<readonly string[]> {
  return (await folded()).state.reports.map(({ text }) => text);
}

const options = () => ({ url, onFault: (error: unknown) => faults.push(error) });

describe("fetching the weather", () => {
  test("what a station reports becomes an entry of the base, once", async () => {
    answer = (station, reply) => reply.end(station === "ZZSK" ? `${metar}\n` : "");
    expect(await fetchWeather(server, options())).toBe(1);
    expect(await fetchWeather(server, options())).toBe(0);
    const held = (await folded()).state.reports.filter(({ text }) => text === metar);
    expect(held).toMatchObject([{ source: "fetched", by: "server", at_ms: now_ms }]);
    expect(faults).toEqual([]);
    expect((await folded()).aside).toEqual([]);
  });

  test("an answer that fails, is late or is no report takes nothing away and is told", async () => {
    const before = await texts();
    answer = (station, reply) => {
      if (station === "ZZSK") reply.writeHead(500).end("METAR ZZSK 250925Z 23014KT CAVOK 01/M01 Q1004");
      else if (station === "ZZGR") reply.end("<html>METAR? not here</html>");
      // ZZTE never answers.
    };
    expect(await fetchWeather(server, { ...options(), timeout_ms: 150 })).toBe(0);
    expect(await texts()).toEqual(before);
    expect(faults).toHaveLength(2);
  });

  test("a source that sends without end is cut off", async () => {
    answer = (_station, reply) => {
      reply.write("METAR ZZSK ".padEnd(60_000, "X"));
      reply.write("X".repeat(60_000));
    };
    expect(await fetchWeather(server, { ...options(), timeout_ms: 2_000 })).toBe(0);
    expect(faults).toHaveLength(3);
  });

  test("a source that is not there blocks neither the start nor the end", async () => {
    const began_ms = performance.now();
    answer = () => {};
    const running = startWeatherFetcher(server, options());
    expect(performance.now() - began_ms).toBeLessThan(100);
    await running.stop();
    expect(performance.now() - began_ms).toBeLessThan(2_000);
    expect(faults).toEqual([]);
  });
});

describe("reports in a text", () => {
  test("each begins a line and goes on over the next; of another station none is taken", () => {
    const taf = "TAF ZZSK 250500Z 2506/2606 23014KT 9999 SKC";
    const text = `as of 0930\n${metar}\n\n${taf}\n  TEMPO 2518/2521 1200 SHSN BKN004\n\nMETAR ZZTE 250920Z 23014KT CAVOK 01/M01 Q1004\n`;
    expect(reportsIn(text, "ZZSK", now_ms)).toEqual([metar, `${taf} TEMPO 2518/2521 1200 SHSN BKN004`]);
    expect(reportsIn("ZZSK 250920Z 23014KT CAVOK", "ZZSK", now_ms)).toEqual([]);
  });
});
