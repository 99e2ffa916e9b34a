// The routes by which devices learn about this server, enrol, and exchange entries.
import type { LedgerId } from "../ledger/entry.ts";
import { msToInstant } from "../core/facts/instant.ts";
import type { Answer, Call } from "../sync/message.ts";
import {
  enrolRoute,
  healthRoute,
  helloRoute,
  offerRoute,
  pullRoute,
  pushRoute,
  revokeRoute,
  sheetRoute,
} from "../wire/exchange.ts";
import { foundRoute } from "../wire/founding.ts";
import { keepPhotoRoute, photoRoute } from "../wire/photos.ts";
import type { ReplyOf } from "../wire/route.ts";
import { limits } from "../wire/shapes.ts";
import type { Serve } from "./api.ts";
import type { Device } from "./directory.ts";
import type { Founding } from "./founding.ts";
import type { OperatorServer } from "./operator-server.ts";
import { enrol, revoke } from "./key-desk.ts";
import { ProblemError } from "./problem-error.ts";

export function serveExchange(
  serve: Serve,
  server: OperatorServer,
  founding: Founding,
  version: string,
): void {
  const { record, sheets, photos } = server;

  serve(healthRoute, async () => ({
    ok: true as const,
    mode: server.mode,
    entries: await record.store.count(),
  }));
  serve(helloRoute, () => hello(server, version));
  serve(foundRoute, async ({ body }) => ({ ledger: await founding.found(body) }));
  serve(enrolRoute, ({ body }) => enrol(server, body));
  serve(revokeRoute, ({ body, device }) => revoke(server, device, body));

  serve(offerRoute, async ({ body: { ids, seen } }) =>
    ask(server, { kind: "offer", ids, seen: seen ?? null }),
  );
  serve(pushRoute, async ({ body: { entries, seen } }) =>
    ask(server, { kind: "push", entries, seen: seen ?? null }),
  );
  serve(pullRoute, async ({ query: { cursor, seen, ledger, limit }, device }) => {
    assertNotRevoked(server, device);
    if (ledger !== undefined && !(await record.has(ledger))) throw new ProblemError("ledgerUnknown");
    return ask(server, {
      kind: "pull",
      cursor: cursor ?? null,
      seen: seen ?? null,
      ledger: ledger ?? null,
      limit: limit ?? limits.entriesPerPull,
    });
  });

  serve(sheetRoute, async ({ params: { hash }, reply }) => {
    const text = sheets.text(hash);
    if (text === null) throw new ProblemError("sheetUnknown");
    reply.header("cache-control", "public, max-age=31536000, immutable").header("etag", `"${hash}"`);
    return JSON.parse(text) as ReplyOf<typeof sheetRoute>;
  });

  serve(keepPhotoRoute, async ({ body: { hash, data }, device }) => {
    assertNotRevoked(server, device);
    const put = photos.put(hash, Buffer.from(data, "base64"));
    if (put !== "kept") throw new ProblemError(put === "erased" ? "photoErased" : "photoWrong");
    return { hash };
  });
  serve(photoRoute, async ({ params: { hash }, device }) => {
    assertNotRevoked(server, device);
    const bytes = photos.bytes(hash);
    if (bytes === null) throw new ProblemError("photoUnknown");
    return { hash, data: Buffer.from(bytes).toString("base64") };
  });
}

/** The exchange's answer without the word that says which call it answers: on the wire the route says it. */
async function ask<Kind extends Call["kind"]>(
  { exchange }: OperatorServer,
  call: Call & { readonly kind: Kind },
): Promise<Omit<Extract<Answer, { kind: Kind }>, "kind">> {
  const { kind: _, ...answer } = (await exchange.answer(call)) as Extract<Answer, { kind: Kind }>;
  return answer;
}

/** A revoked device may still hand over what it has (it is kept aside), but learns nothing any more. */
function assertNotRevoked({ record }: OperatorServer, { key }: Device): void {
  if (record.trust.revocations[key] !== undefined) throw new ProblemError("tokenUnknown");
}

async function hello(server: OperatorServer, version: string): Promise<ReplyOf<typeof helloRoute>> {
  const { record, keyring, directory, exchange, sheets, mode, now_ms } = server;
  const { operator } = record;
  return {
    operator:
      operator === null
        ? null
        : { ledger: operator.ledger, name: operator.state.opened?.name ?? "", publicKey: keyring.root.key },
    serverKey: keyring.server.key,
    mode,
    epoch: exchange.epoch,
    serverTime: msToInstant(now_ms()),
    version,
    bases: operator === null ? [] : operator.state.bases.map(({ base, name }) => ({ ledger: base, name })),
    people: directory.people().map(({ id, name, roles }) => ({ id, name, roles: [...roles] })),
    craft: await craftOf(server),
    sheets: [...sheets.hashes()],
  };
}

/** Name of each craft as its opening says; the opening stands among the first entries of its ledger. */
async function craftOf({ record }: OperatorServer): Promise<{ ledger: LedgerId; name: string }[]> {
  const ledgers = (await record.store.ledgers()).filter((ledger) => ledger.startsWith("craft:"));
  return Promise.all(ledgers.map(async (ledger) => ({ ledger, name: await nameOf(record, ledger) })));
}

async function nameOf({ store }: OperatorServer["record"], ledger: LedgerId): Promise<string> {
  const { rows } = await store.since(0, 50, ledger);
  for (const { entry } of rows) {
    const { type } = JSON.parse(entry.envelope) as { type: string };
    if (type === "craft.opened" && entry.body !== null)
      return (JSON.parse(entry.body) as { name: string }).name;
  }
  return ledger.slice("craft:".length);
}
