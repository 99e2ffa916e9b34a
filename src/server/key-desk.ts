// Where keys begin and end: a person's PIN makes the certificate of a device's key, an administrator's word revokes it.
// Both are entries in the operator's ledger, signed by the server, in turn with everything else that it writes.
import { hour_ms, msToInstant } from "../core/facts/instant.ts";
import { holdsRole } from "../ledger/acceptance.ts";
import type { Hash } from "../ledger/entry.ts";
import type { enrolRoute, revokeRoute } from "../wire/exchange.ts";
import type { BodyOf, ReplyOf } from "../wire/route.ts";
import type { Device, Person } from "./directory.ts";
import type { OperatorServer } from "./operator-server.ts";
import { ProblemError } from "./problem-error.ts";
import { serverPerson } from "./record.ts";

/** A device's clock may be behind by hours; a key made today has signed nothing before yesterday. */
const backdated_ms = 24 * hour_ms;

export async function enrol(
  server: OperatorServer,
  { person: id, pin, publicKey: key, deviceName: name }: BodyOf<typeof enrolRoute>,
): Promise<ReplyOf<typeof enrolRoute>> {
  const { record, directory, exchange, now_ms } = server;
  if (record.operator === null) throw new ProblemError("notFounded");
  const tried = await directory.tryPin(id, pin, now_ms());
  if (tried.kind !== "right")
    throw new ProblemError(tried.kind === "wrong" ? "pinWrong" : "pinLocked", {
      retryAfter_ms: tried.wait_ms,
    });
  const certificate = await exchange.inTurn(() => certify(server, tried.person, key));
  const token = directory.addDevice({ person: id, key, name }, now_ms());
  return { token, certificate, ledger: record.operator.ledger };
}

/** Id of the entry that certifies this key for this person: the one that stands, or a new one. */
async function certify(server: OperatorServer, person: Person, key: string): Promise<Hash> {
  const { trust } = server.record;
  const held = trust.certificates[key] ?? [];
  if (held.some((certificate) => certificate.person !== person.id) || key === trust.root)
    throw new ProblemError("keyTaken");
  const now = server.now_ms();
  const standing = held.find(
    ({ until_ms, roles }) => (until_ms === null || until_ms > now) && sameRoles(roles, person.roles),
  );
  if (standing !== undefined && trust.revocations[key] === undefined) return standing.entry;
  if (trust.revocations[key] !== undefined || holdsRole(trust, key, "server"))
    throw new ProblemError("keyTaken");
  return writeToOperator(server, "key.certified", {
    key,
    person: person.id,
    roles: person.roles,
    from: msToInstant(now - backdated_ms),
    until: null,
  });
}

/** Writes a revocation that holds from now on; of a key that is revoked already the first one stands. */
export async function revoke(
  server: OperatorServer,
  device: Device,
  { key, why }: BodyOf<typeof revokeRoute>,
): Promise<ReplyOf<typeof revokeRoute>> {
  const { record, directory, exchange, now_ms } = server;
  if (record.trust.revocations[device.key] !== undefined) throw new ProblemError("tokenUnknown");
  if (directory.person(device.person)?.roles.includes("administrator") !== true)
    throw new ProblemError("roleMissing");
  const entry = await exchange.inTurn(async () => {
    const { trust } = record;
    if (trust.certificates[key] === undefined || holdsRole(trust, key, "server"))
      throw new ProblemError("keyUnknown");
    const standing = trust.revocations[key];
    if (standing !== undefined) return standing.entry;
    return writeToOperator(server, "key.revoked", { key, why, at: msToInstant(now_ms()) });
  });
  return { entry };
}

/** Only to be called in turn. */
async function writeToOperator(
  { record, keyring }: OperatorServer,
  type: string,
  body: object,
): Promise<Hash> {
  const { operator } = record;
  if (operator === null) throw new ProblemError("notFounded");
  const entry = await record.seal(keyring.server, serverPerson, { ledger: operator.ledger, type, body });
  await record.append([entry]);
  return entry.id;
}

function sameRoles(a: readonly string[], b: readonly string[]): boolean {
  return a.toSorted().join() === b.toSorted().join();
}
