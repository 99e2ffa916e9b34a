import { mkdirSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { foldLedger } from "../ledger/fold.ts";
import { isOpened, isSigned, openEntry, reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { nodeVerifier, sha256, signerFromSeed } from "../crypto/node.ts";
import { bytesOf } from "../ledger/crypto.ts";
import type { ReceiptBody } from "../ledger/system-entries.ts";
import { demoKeySeed } from "../../demo/make-demo.ts";
import { helloRoute, enrolRoute, pullRoute, pushRoute } from "../wire/exchange.ts";
import { type Problem, problemCodes, problemShape } from "../wire/problem.ts";
import type { ReplyOf, Route } from "../wire/route.ts";
import { routes } from "../wire/routes.ts";
import { limits } from "../wire/shapes.ts";
import {
  type Answered,
  type PullReply,
  type SampleDevice,
  SampleServer,
  sampleHost,
} from "./sample-server.ts";

let sample: SampleServer;
beforeEach(async () => {
  sample = new SampleServer();
  await sample.open();
  await sample.found();
});
afterEach(() => sample.remove());

describe("What the server says of itself", () => {
  test("hello names operator, keys, people, craft and epoch, in the shape of the wire", async () => {
    const device = await sample.enrol("p-one", "1111");
    await device.push([await device.openCraft("kite")]);
    sample.server.sheets.put({ type: "sample" });
    const { status, body, headers } = await sample.get("/api/hello");
    expect(status).toBe(200);
    const hello = helloRoute.reply.parse(body);
    expect(hello.operator).toEqual({
      ledger: sample.server.record.operator!.ledger,
      name: "Sample",
      publicKey: sample.server.keyring.root.key,
    });
    expect(hello.people.map((p) => p.name)).toEqual(["Admin", "One", "Two"]);
    expect(JSON.stringify(body)).not.toContain("scrypt");
    expect(hello.craft).toEqual([{ ledger: "craft:kite", name: "Craft kite" }]);
    expect([hello.mode, hello.epoch, hello.version]).toEqual(["operator", 1, "1.2.3"]);
    expect(hello.serverTime).toBe("2031-04-01T06:40:00.000Z");
    expect(hello.sheets).toEqual(sample.server.sheets.hashes());
    expect(headers["cache-control"]).toBe("no-store");
  });

  test("health counts entries", async () => {
    expect((await sample.get("/health")).body).toEqual({ ok: true, mode: "operator", entries: 2 });
  });

  test("serves every route of the wire's table and no other API route", async () => {
    await sample.app.ready();
    const served: string[] = [];
    for (const { method, path } of routes) {
      expect([path, sample.app.hasRoute({ method, url: path })]).toEqual([path, true]);
      served.push(path);
    }
    const listed = sample.app.printRoutes({ commonPrefix: false, includeHooks: false });
    const lines = listed.split("\n").filter((line) => /\((?:GET|POST|PUT|DELETE|PATCH)/u.test(line));
    expect(lines.length).toBe(served.length);
    const { body } = await sample.get<{ paths: object }>("/api/openapi.json");
    expect(Object.keys(body.paths).length).toBe(routes.length);
  });

  test("serves a sheet by its hash for ever, and only whole", async () => {
    const hash = sample.server.sheets.put({ name: "Quill", rows: [1, 2] });
    const { status, body, headers } = await sample.get(`/api/sheets/${hash}`);
    expect([status, body]).toEqual([200, { name: "Quill", rows: [1, 2] }]);
    expect(headers["cache-control"]).toContain("immutable");
    expect((await sample.get(`/api/sheets/${"0".repeat(64)}`)).body.code).toBe("sheetUnknown");
    expect((await sample.get("/api/sheets/..%2fkeys.json")).body.code).toBe("invalid");
    writeFileSync(join(sample.folder, "sheets", `${hash}.json`), "{}");
    expect((await sample.get(`/api/sheets/${hash}`)).body.code).toBe("failed");
    expect(sample.faults.length).toBe(1);
  });
});

describe("Founding", () => {
  let empty: SampleServer;
  beforeEach(async () => {
    empty = new SampleServer();
    await empty.open();
  });
  afterEach(() => empty.remove());
  const body = (code: string): object => ({
    code,
    operatorName: "New",
    administrator: { id: "p-a", name: "A", pin: "1234" },
  });

  test("makes the operator with the printed code, once", async () => {
    expect((await empty.get<{ operator: unknown }>("/api/hello")).body.operator).toBeNull();
    expect((await empty.post("/api/found", body("wrong"))).body.code).toBe("codeWrong");
    expect((await empty.post("/api/found", body(empty.founding.code))).body.code).toBe("tooFast");
    await new Promise((resolve) => setTimeout(resolve, 1_050));
    const { status } = await empty.post("/api/found", body(empty.founding.code));
    expect(status).toBe(200);
    const again = await empty.post("/api/found", body(empty.founding.code));
    expect([again.status, again.body.code]).toEqual([409, "alreadyFounded"]);
    expect(empty.founding.isDue).toBe(false);
    await empty.enrol("p-a", "1234");
  });

  test("must come before enrolment", async () => {
    const key = "a".repeat(64);
    const answer = await empty.post("/api/enrol", {
      person: "p-a",
      pin: "1234",
      publicKey: key,
      deviceName: "d",
    });
    expect(answer.body.code).toBe("notFounded");
  });
});

describe("Enrolment", () => {
  test("writes a certificate, signed by the server's key, that the operator's ledger accepts", async () => {
    const device = await sample.enrol("p-one", "1111");
    const { store, operator } = sample.server.record;
    const entries = (await store.ofLedger(operator!.ledger)).map(reopenEntry);
    const folded = foldLedger(operatorLedger, entries, operatorLedger.initial.trust);
    expect(folded.aside).toEqual([]);
    expect(folded.state.trust.certificates[device.signer.key]).toMatchObject([
      { entry: device.certificate, person: "p-one", roles: ["pilot"], until_ms: null },
    ]);
    const certificate = openEntry((await store.get(device.certificate))!, sha256);
    expect(isOpened(certificate) && certificate.envelope.key).toBe(sample.server.keyring.server.key);
    expect(isOpened(certificate) && (await isSigned(certificate, nodeVerifier))).toBe(true);
  });

  test("of the same key for the same person again gives a new token and the same certificate", async () => {
    const first = await sample.enrol("p-one", "1111");
    const second = await sample.enrol("p-one", "1111");
    expect(second.certificate).toBe(first.certificate);
    expect(second.token).not.toBe(first.token);
  });

  test("refuses a key that belongs to another person, or to the server itself", async () => {
    const device = await sample.enrol("p-one", "1111");
    for (const publicKey of [
      device.signer.key,
      sample.server.keyring.server.key,
      sample.server.keyring.root.key,
    ]) {
      sample.now_ms += 60_000;
      const answer = await sample.post("/api/enrol", {
        person: "p-two",
        pin: "2222",
        publicKey,
        deviceName: "x",
      });
      expect([answer.status, answer.body.code]).toEqual([409, "keyTaken"]);
    }
  });

  test("makes each wrong PIN wait twice as long, for that person alone", async () => {
    const attempt = (pin: string, person = "p-one"): Promise<Answered<Problem>> =>
      sample.post("/api/enrol", { person, pin, publicKey: "b".repeat(64), deviceName: "x" });
    const waits: (number | undefined)[] = [];
    for (let n = 0; n < 4; n++) {
      const wrong = await attempt("0000");
      expect([wrong.status, wrong.body.code]).toEqual([403, "pinWrong"]);
      waits.push(wrong.body.retryAfter_s);
      const locked = await attempt("1111");
      expect([locked.status, locked.body.code]).toEqual([429, "pinLocked"]);
      expect(locked.headers["retry-after"]).toBe(String(wrong.body.retryAfter_s));
      sample.now_ms += wrong.body.retryAfter_s! * 1_000;
    }
    expect(waits).toEqual([1, 2, 4, 8]);
    expect((await attempt("2222", "p-two")).status).toBe(200);
    expect((await attempt("0000", "nobody")).body.code).toBe("pinWrong");
  });

  test("gains nothing from many tries at once, and forgets wrong ones after a right one", async () => {
    const tries = Array.from({ length: 8 }, (_, n) =>
      sample.post("/api/enrol", {
        person: "p-one",
        pin: `000${n}`,
        publicKey: "b".repeat(64),
        deviceName: "x",
      }),
    );
    const codes = (await Promise.all(tries)).map(({ body }) => body.code);
    expect(codes.filter((code) => code === "pinWrong").length).toBe(1);
    expect(codes.filter((code) => code === "pinLocked").length).toBe(7);
    sample.now_ms += 1_000;
    await sample.enrol("p-one", "1111");
    const wrong = await sample.post("/api/enrol", {
      person: "p-one",
      pin: "0000",
      publicKey: "b".repeat(64),
      deviceName: "x",
    });
    expect(wrong.body.retryAfter_s).toBe(1);
  });
});

describe("The exchange over HTTP", () => {
  let device: SampleDevice;
  beforeEach(async () => {
    device = await sample.enrol("p-one", "1111");
  });

  async function receiptsFor(id: string): Promise<readonly ReceiptBody["entries"][number][]> {
    return (await device.pullAll())
      .map(reopenEntry)
      .filter(({ envelope }) => envelope.type === "receipt")
      .flatMap(({ body }) => (body as ReceiptBody).entries)
      .filter((line) => line.id === id);
  }

  test("takes entries, answers with verdicts, and writes receipts into the same ledger", async () => {
    const entries = [await device.openCraft(), await device.write("craft:one", "event.noted", { n: 1 })];
    const { status, body } = await device.push(entries);
    expect(status).toBe(200);
    pushRoute.reply.parse(body);
    expect(body.verdicts).toEqual(entries.map(({ id }) => ({ id, verdict: "accepted", code: null })));
    const all = await device.pullAll();
    const craft = all.filter((e) => reopenEntry(e).envelope.ledger === "craft:one");
    expect(craft.slice(0, 2)).toEqual(entries);
    expect(craft.length).toBe(3);
    const receipt = openEntry(craft[2]!, sha256);
    if (!isOpened(receipt)) throw new Error("the receipt cannot be opened");
    expect(await isSigned(receipt, nodeVerifier)).toBe(true);
    expect(receipt.envelope).toMatchObject({
      type: "receipt",
      by: "server",
      after: [entries[1]!.id],
      seq: 0,
    });
    expect(receipt.body).toEqual({
      entries: entries.map(({ id }) => ({
        id,
        receivedAt: "2031-04-01T06:40:00.000Z",
        verdict: "accepted",
        code: null,
      })),
    });
  });

  test("is idempotent: the same push again changes nothing", async () => {
    const entries = [await device.openCraft()];
    await device.push(entries);
    const before = await device.pullAll();
    const { body } = await device.push(entries);
    expect(body.verdicts).toEqual([{ id: entries[0]!.id, verdict: "held", code: null }]);
    expect(await device.pullAll()).toEqual(before);
  });

  test("keeps the server's chain whole over many pushes, also at once and across a restart", async () => {
    await device.push([await device.openCraft()]);
    for (let n = 0; n < 3; n++) await device.push([await device.write("craft:one", "event.noted", { n })]);
    const many = [
      await device.write("craft:one", "event.noted", {}),
      await device.write("craft:one", "event.noted", {}),
    ];
    await Promise.all(many.map((entry) => device.push([entry])));
    await sample.close();
    await sample.open();
    await device.push([await device.write("craft:one", "event.noted", { last: true })]);
    const chain = (await device.pullAll())
      .map(reopenEntry)
      .filter(({ envelope }) => envelope.ledger === "craft:one" && envelope.by === "server");
    expect(chain.map(({ envelope }) => envelope.seq)).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(chain.slice(1).map(({ envelope }) => envelope.prev)).toEqual(
      chain.slice(0, -1).map(({ id }) => id),
    );
  });

  test("pulls by cursor and by ledger; an unknown ledger is named so", async () => {
    await device.push([await device.openCraft("one"), await device.openCraft("two")]);
    const { body } = await sample.get<PullReply>("/api/pull?ledger=craft:two", device.token);
    pullRoute.reply.parse(body);
    expect(body.entries.length).toBe(2);
    const next = await sample.get<PullReply>(
      `/api/pull?ledger=craft:two&cursor=${body.cursor}`,
      device.token,
    );
    expect([next.body.entries, next.body.more]).toEqual([[], false]);
    expect((await sample.get("/api/pull?ledger=craft:none", device.token)).body.code).toBe("ledgerUnknown");
    expect((await sample.get("/api/pull?ledger=nonsense", device.token)).body.code).toBe("invalid");
    expect((await sample.get("/api/pull?limit=0", device.token)).body.code).toBe("invalid");
    const odd = await sample.get<PullReply>("/api/pull?cursor=9.9.nothing", device.token);
    expect(odd.body.restarted).toBe(true);
  });

  test("refuses a key that nobody certified, keeps the entry, and says so in its receipt", async () => {
    const stranger = signerFromSeed(sha256(bytesOf("stranger")));
    await device.push([await device.openCraft()]);
    const entry = await device.write("craft:one", "event.noted", {}, stranger);
    expect((await device.push([entry])).body.verdicts).toEqual([
      { id: entry.id, verdict: "refused", code: "uncertified" },
    ]);
    expect((await device.pullAll()).some((e) => e.id === entry.id)).toBe(true);
    expect(await receiptsFor(entry.id)).toMatchObject([{ verdict: "refused", code: "uncertified" }]);
  });

  test("refuses an entry in another person's name", async () => {
    const other = await sample.enrol("p-two", "2222");
    await device.push([await device.openCraft()]);
    const entry = await other.write("craft:one", "event.noted", {}, device.signer);
    expect((await device.push([entry])).body.verdicts[0]).toMatchObject({
      verdict: "refused",
      code: "uncertified",
    });
  });

  test("keeps aside what comes after a revocation, and tells a revoked device nothing more", async () => {
    const administrator = await sample.enrol("p-admin", "9999");
    await device.push([await device.openCraft()]);
    const order = { key: device.signer.key, why: "lost on the mountain" };
    expect((await sample.post("/api/revoke", order, device.token)).body.code).toBe("roleMissing");
    const { status, body } = await sample.post<{ entry: string }>("/api/revoke", order, administrator.token);
    expect(status).toBe(200);
    expect((await sample.post("/api/revoke", order, administrator.token)).body).toEqual(body);
    const unknown = { ...order, key: sample.server.keyring.server.key };
    expect((await sample.post("/api/revoke", unknown, administrator.token)).body.code).toBe("keyUnknown");
    sample.now_ms += 1_000;
    const late = await device.write("craft:one", "event.noted", {});
    expect((await device.push([late])).body.verdicts[0]).toMatchObject({
      verdict: "refused",
      code: "revoked",
    });
    expect((await sample.get("/api/pull", device.token)).status).toBe(401);
    expect((await administrator.pullAll()).some((e) => e.id === late.id)).toBe(true);
    const again = await sample.post("/api/enrol", {
      person: "p-one",
      pin: "1111",
      publicKey: device.signer.key,
      deviceName: "x",
    });
    expect(again.body.code).toBe("keyTaken");
  });

  test("does not keep what does not hash, verify or hold together, and the true entry may still come", async () => {
    const entry = await device.openCraft();
    const forged: readonly (readonly [string, object])[] = [
      ["signatureWrong", { sig: `${entry.sig.startsWith("00") ? "11" : "00"}${entry.sig.slice(2)}` }],
      ["idWrong", { envelope: entry.envelope.replace('"seq":0', '"seq":1') }],
      ["idWrong", { id: "0".repeat(64) }],
      ["bodyWrong", { body: '{"name":"other"}' }],
      ["bodyWrong", { salt: "f".repeat(32) }],
      ["bodyWrong", { body: null }],
    ];
    for (const [code, change] of forged) {
      const { body } = await device.push([{ ...entry, ...change }]);
      expect(body.verdicts.map((v) => [v.verdict, v.code])).toEqual([["notKept", code]]);
    }
    expect((await device.push([entry])).body.verdicts[0]!.verdict).toBe("accepted");
  });

  test("does not take the demo's keys, nor ledgers that are not this operator's", async () => {
    const demo = signerFromSeed(demoKeySeed("p-ravn", sha256));
    await device.push([await device.openCraft()]);
    const entries = [
      await device.write("craft:one", "event.noted", {}, demo),
      await device.write("operator:another", "key.revoked", {}),
      await device.write("craft:never-opened", "event.noted", {}),
      await device.write("person:nobody", "note", {}),
      await device.write("base:nowhere", "note", {}),
      await device.write("person:p-one", "note", {}),
    ];
    const { body } = await device.push(entries);
    expect(body.verdicts.map((v) => [v.verdict, v.code])).toEqual([
      ["notKept", "demoKey"],
      ["notKept", "ledgerUnknown"],
      ["notKept", "ledgerUnknown"],
      ["notKept", "ledgerUnknown"],
      ["notKept", "ledgerUnknown"],
      ["accepted", null],
    ]);
  });

  test("warns of a fork and keeps both sides", async () => {
    await device.push([await device.openCraft()]);
    const twin = await sample.enrol("p-one", "1111");
    const [here, there] = [
      await device.write("craft:fork", "craft.opened", { side: 1 }),
      await twin.write("craft:fork", "craft.opened", { side: 2 }),
    ];
    expect((await device.push([here])).body.verdicts[0]).toMatchObject({ verdict: "accepted", code: null });
    expect((await device.push([there])).body.verdicts[0]).toMatchObject({
      verdict: "accepted",
      code: "fork",
    });
    const ids = (await device.pullAll()).map((e) => e.id);
    expect([here, there].every(({ id }) => ids.includes(id))).toBe(true);
  });

  test("erases a body on an administrator's word, also when it comes again, and on nobody else's", async () => {
    const administrator = await sample.enrol("p-admin", "9999");
    const [opened, secret] = [
      await device.openCraft(),
      await device.write("craft:one", "event.noted", { secret: "s3cret" }),
    ];
    await device.push([opened, secret]);
    const erase = { entry: secret.id, role: "administrator", legalReason: "asked for" };
    await device.push([await device.write("craft:one", "erase", erase)]);
    expect((await sample.server.record.store.get(secret.id))!.body).not.toBeNull();
    await administrator.push([await administrator.write("craft:one", "erase", erase)]);
    expect((await sample.server.record.store.get(secret.id))!.body).toBeNull();
    await device.push([secret]);
    expect(JSON.stringify(await device.pullAll())).not.toContain("s3cret");
  });

  test("strips a body that arrives after its erasure", async () => {
    const administrator = await sample.enrol("p-admin", "9999");
    const [opened, secret] = [
      await device.openCraft(),
      await device.write("craft:one", "event.noted", { secret: "s3cret" }),
    ];
    await device.push([opened]);
    const erase = { entry: secret.id, role: "administrator", legalReason: "asked for" };
    await administrator.push([await administrator.write("craft:one", "erase", erase)]);
    expect((await device.push([secret])).body.verdicts[0]!.verdict).toBe("accepted");
    expect((await sample.server.record.store.get(secret.id))!.body).toBeNull();
  });

  test("offers back only what is lacking", async () => {
    const [one, two] = [await device.openCraft("one"), await device.openCraft("two")];
    await device.push([one]);
    const { body } = await sample.post<{ wanted: string[] }>(
      "/api/offer",
      { ids: [one.id, two.id] },
      device.token,
    );
    expect(body.wanted).toEqual([two.id]);
  });

  test("needs a token that is known, in the header's own form", async () => {
    for (const [authorization, code] of [
      [undefined, "tokenMissing"],
      ["", "tokenMissing"],
      ["Bearer", "tokenMissing"],
      [`Basic ${device.token}`, "tokenMissing"],
      [`Bearer ${device.token} more`, "tokenMissing"],
      ["Bearer wrong", "tokenUnknown"],
      [`Bearer ${device.token.slice(1)}`, "tokenUnknown"],
    ] as const) {
      for (const [method, url] of [
        ["GET", "/api/pull"],
        ["POST", "/api/push"],
        ["POST", "/api/offer"],
      ] as const) {
        const headers = authorization === undefined ? {} : { authorization };
        const answer = await sample.ask({
          method,
          url,
          headers,
          ...(method === "POST" ? { payload: {} } : {}),
        });
        expect([url, answer.status, answer.body.code]).toEqual([url, 401, code]);
        expect(answer.headers["www-authenticate"]).toBe("Bearer");
      }
    }
  });

  test("withdraws a person's tokens with the person", async () => {
    expect(sample.server.directory.erasePerson("p-one")).toBe(true);
    expect((await sample.get("/api/pull", device.token)).body.code).toBe("tokenUnknown");
    expect((await sample.get<ReplyOf<typeof helloRoute>>("/api/hello")).body.people.map((p) => p.id)).toEqual(
      ["p-admin", "p-two"],
    );
  });
});

describe("Bad input", () => {
  const enrolBody = { person: "p-one", pin: "1111", publicKey: "b".repeat(64), deviceName: "x" };

  async function sendText(
    text: string,
    type = "application/json",
  ): Promise<{ status: number; code: string }> {
    const { status, body } = await sample.ask({
      method: "POST",
      url: "/api/enrol",
      payload: text,
      headers: { "content-type": type },
    });
    problemShape.parse(body);
    return { status, code: body.code };
  }

  test("that is not JSON, or no JSON object, or tries to reach a prototype, is called malformed or invalid", async () => {
    for (const text of ["", "{", '{"a":1', "undefined", "\u0000", '{"__proto__":{"x":1}}']) {
      expect([text, await sendText(text)]).toEqual([text, { status: 400, code: "malformed" }]);
    }
    for (const text of ["null", "[]", "7", '"text"', "{}"]) {
      expect([text, await sendText(text)]).toEqual([text, { status: 400, code: "invalid" }]);
    }
    const asText = await sendText(JSON.stringify(enrolBody), "text/plain");
    expect(asText).toEqual({ status: 400, code: "malformed" });
  });

  test("is named whole: every fault with path, found and wanted", async () => {
    const { body } = await sample.post("/api/enrol", { person: 7, pin: "1", publicKey: "zz", extra: true });
    const paths = body.issues!.map(({ path }) => path).toSorted();
    expect(paths).toEqual(["/body", "/body/deviceName", "/body/person", "/body/pin", "/body/publicKey"]);
    expect(body.issues!.find(({ path }) => path === "/body/publicKey")).toEqual({
      path: "/body/publicKey",
      found: '"zz"',
      wanted: "64 lower-case hex digits",
    });
    problemShape.parse(body);
  });

  test("that is larger than a request may be is told so, and so is a batch that is too long", async () => {
    const { token } = await sample.enrol("p-one", "1111");
    const huge = { entries: [], pad: "x".repeat(limits.bytesPerBody) };
    expect(await codeOf(sample.post("/api/push", huge, token))).toBe("413 tooLarge");
    const ids = Array.from({ length: limits.idsPerOffer + 1 }, () => "a".repeat(64));
    expect(await codeOf(sample.post("/api/offer", { ids }, token))).toBe("400 invalid");
    const body = "x".repeat(limits.bytesPerText + 1);
    const entry = { id: "a".repeat(64), envelope: "{}", sig: "a".repeat(128), salt: "a".repeat(32), body };
    const answer = await sample.post("/api/push", { entries: [entry] }, token);
    expect([answer.status, answer.body.issues?.[0]?.path]).toEqual([400, "/body/entries/0/body"]);
    expect(JSON.stringify(answer.body).length).toBeLessThan(1_000);
  });

  test("from another site, or under another name for this machine, is refused on every address", async () => {
    for (const headers of [
      { host: "evil.example" },
      { host: "evil.example:4717" },
      { host: "localhost:9999" },
      { host: "localhost.evil.example:4717" },
      { host: "" },
      { origin: "https://evil.example" },
      { origin: "null" },
      { origin: "http://localhost:9999" },
      { origin: "https://localhost:4717" },
    ]) {
      for (const url of ["/api/hello", "/health", "/", "/craft/one"]) {
        const answer = await sample.ask({ method: "GET", url, headers });
        expect([headers, url, answer.status, answer.body.code]).toEqual([headers, url, 403, "foreignOrigin"]);
      }
    }
    for (const host of [sampleHost, "127.0.0.1:4717", "[::1]:4717", "LOCALHOST:4717"]) {
      const headers = { host, origin: `http://${host.toLowerCase()}` };
      expect((await sample.ask({ method: "GET", url: "/api/hello", headers })).status).toBe(200);
    }
  });

  test("for an address that is not there, or by a method that is not taken, is answered in JSON", async () => {
    expect(await codeOf(sample.get("/api/nothing"))).toBe("404 notFound");
    expect(await codeOf(sample.get("/api"))).toBe("404 notFound");
    const answer = await sample.get("/api/push");
    expect([answer.status, answer.body.code, answer.headers["allow"]]).toEqual([
      405,
      "methodUnknown",
      "POST",
    ]);
    expect(await codeOf(sample.post("/nothing", {}))).toBe("404 notFound");
    expect(await codeOf(sample.ask({ method: "DELETE", url: "/api/hello" }))).toBe("405 methodUnknown");
  });

  test("too often is slowed down, with the time to wait", async () => {
    let last = await sample.get("/health");
    for (let n = 0; n < 3_100 && last.status === 200; n++) last = await sample.get("/health");
    expect([last.status, last.body.code]).toEqual([429, "tooFast"]);
    expect(last.body.retryAfter_s).toBeGreaterThan(0);
  });

  test("cannot provoke a problem that the wire does not list for its route", () => {
    const listed = new Set(routes.flatMap((route: Route) => route.problems));
    const general = ["malformed", "invalid", "tokenMissing", "tokenUnknown", "foreignOrigin", "notFound"];
    const server = ["methodUnknown", "tooLarge", "tooFast", "failed"];
    const known = new Set<string>([...listed, ...general, ...server]);
    expect(problemCodes.filter((code) => !known.has(code))).toEqual([]);
  });
});

async function codeOf(answer: Promise<Answered<Problem>>): Promise<string> {
  const { status, body } = await answer;
  return `${status} ${body.code}`;
}

describe("The app", () => {
  let built: SampleServer;
  beforeAll(async () => {
    built = new SampleServer();
    const folder = join(built.folder, "web");
    mkdirSync(join(folder, "assets"), { recursive: true });
    writeFileSync(join(folder, "index.html"), `<!doctype html><title>app</title>${" ".repeat(2_000)}`);
    writeFileSync(join(folder, "assets", "main-abc.js"), "export {};".repeat(500));
    writeFileSync(join(folder, "sw.js"), "self;");
    writeFileSync(join(folder, "font.woff2"), "woff");
    await built.open(folder);
  });
  afterAll(() => built.remove());

  async function page(
    url: string,
    headers = {},
  ): Promise<{ status: number; headers: Record<string, unknown>; raw: Buffer }> {
    const response = await built.app.inject({
      method: "GET",
      url,
      headers: { host: sampleHost, ...headers },
    });
    return { status: response.statusCode, headers: response.headers, raw: response.rawPayload };
  }

  test("is served for every page address of it", async () => {
    for (const url of ["/", "/craft/one/walk", "/machines?from=x", "/craft/b%C3%B8"]) {
      const { status, headers, raw } = await page(url);
      expect([url, status, headers["content-type"]]).toEqual([url, 200, "text/html; charset=utf-8"]);
      expect(raw.toString()).toContain("<title>app</title>");
      expect(headers["cache-control"]).toBe("no-cache");
    }
  });

  test("answers 404 for a file that is not there, and for whatever leads out of the folder", async () => {
    for (const url of [
      "/assets/gone.js",
      "/gone.png",
      "/api/gone",
      "/..%2fkeys.json",
      "/%2e%2e/keys.json",
      "/assets/..%5c..%5ckeys.json",
      "/keys.json",
      "/%00.js",
    ]) {
      const { status, headers } = await page(url);
      expect([url, status, headers["content-type"]]).toEqual([url, 404, "application/json; charset=utf-8"]);
    }
    expect((await page("/%zz")).status).toBeGreaterThanOrEqual(400);
  });

  test("is packed as the browser can unpack it, once, and not sent again when unchanged", async () => {
    const plain = await page("/assets/main-abc.js");
    const packed = await page("/assets/main-abc.js", { "accept-encoding": "gzip, br" });
    expect(packed.headers["content-encoding"]).toBe("br");
    expect(packed.raw.length).toBeLessThan(plain.raw.length / 10);
    expect(
      (await page("/assets/main-abc.js", { "accept-encoding": "br;q=0, gzip" })).headers["content-encoding"],
    ).toBe("gzip");
    expect(plain.headers["content-encoding"]).toBeUndefined();
    expect([plain.headers["cache-control"], plain.headers["vary"]]).toEqual([
      "public, max-age=31536000, immutable",
      "accept-encoding",
    ]);
    const again = await page("/assets/main-abc.js", {
      "accept-encoding": "br",
      "if-none-match": packed.headers["etag"],
    });
    expect([again.status, again.raw.length]).toEqual([304, 0]);
    expect(
      (await page("/font.woff2", { "accept-encoding": "br" })).headers["content-encoding"],
    ).toBeUndefined();
  });

  test("comes with a strict content policy and the usual guards, on pages and on the API", async () => {
    for (const url of ["/", "/api/hello", "/gone.js"]) {
      const { headers } = await page(url);
      const policy = String(headers["content-security-policy"]);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self';");
      expect(policy).not.toMatch(/unsafe|upgrade-insecure|data:|\*/u);
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["referrer-policy"]).toBe("no-referrer");
      expect(headers["strict-transport-security"]).toBeUndefined();
      expect(headers["permissions-policy"]).toContain("microphone=()");
    }
  });

  test("changes at once when another build takes its place", async () => {
    const file = join(built.folder, "web", "index.html");
    writeFileSync(file, "<title>newer</title>");
    expect((await page("/")).raw.toString()).toBe("<title>newer</title>");
  });

  test("that is not built yet is asked for in words", async () => {
    const { status, body } = await sample.get<string>("/");
    expect([status, body]).toEqual([503, "The app is not built yet: npm start builds it.\n"]);
  });
});

describe("A real socket", () => {
  test("answers on loopback, refuses a foreign name, and survives half a request and garbage", async () => {
    const port = await listenOn(sample);
    const garbage = await talk(port, "\u0000\u0001 nonsense\r\n\r\n");
    expect(garbage).toMatch(/^HTTP\/1\.1 400/u);
    const half = connect(port, "localhost");
    half.write("POST /api/push HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\n{");
    const foreign = await talk(
      port,
      "GET /api/hello HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n",
    );
    expect(foreign).toMatch(/^HTTP\/1\.1 403/u);
    const nameless = await talk(port, "GET /api/hello HTTP/1.0\r\n\r\n");
    expect(nameless).toMatch(/^HTTP\/1\.1 403/u);
    const chunked = await sendChunked(port, "/api/push", limits.bytesPerBody + 1_000_000);
    expect(chunked).toBe(413);
    half.destroy();
    const alive = await talk(
      port,
      `GET /health HTTP/1.1\r\nHost: localhost:4717\r\nConnection: close\r\n\r\n`,
    );
    expect(alive).toContain('"ok":true');
  });
});

async function listenOn({ app }: SampleServer): Promise<number> {
  await app.listen({ port: 0, host: "localhost" });
  const address = app.server.address();
  if (address === null || typeof address === "string") throw new Error("no port");
  return address.port;
}

function talk(port: number, text: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, "localhost", () => socket.write(text));
    let answer = "";
    socket.setEncoding("utf8").on("data", (part: string) => (answer += part));
    socket.on("close", () => resolve(answer));
    socket.on("error", reject);
  });
}

/** Status of a body that never says how long it is. */
function sendChunked(port: number, path: string, bytes: number): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const headers = { host: sampleHost, "content-type": "application/json" };
    const sending = request({ port, host: "localhost", path, method: "POST", headers }, (response) => {
      response.resume();
      resolve(response.statusCode);
    });
    sending.on("error", reject);
    for (let sent = 0; sent < bytes; sent += 100_000) sending.write(" ".repeat(100_000));
    sending.end("{}");
  });
}

test("what the server answers to enrolment is what the wire says", async () => {
  const { body } = await sample.post("/api/enrol", {
    person: "p-one",
    pin: "1111",
    publicKey: "c".repeat(64),
    deviceName: "x",
  });
  expect(Object.keys(enrolRoute.reply.parse(body))).toEqual(["token", "certificate", "ledger"]);
});
