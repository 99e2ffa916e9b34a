// Answers only requests that were meant for this server. A page of another site may make the browser ask us, also under
// a name of its own that it points at this machine; the Host header then names that site, or the Origin header does.
import type { FastifyRequest } from "fastify";
import { ProblemError } from "./problem-error.ts";

export type OwnAddress = {
  /** The port listened on. */
  readonly port: () => number;
  /** The address that a proxy shows; null without one. */
  readonly origin: string | null;
  /** The name listened on, when it is not a loopback one. */
  readonly bind: string;
};

const loopbackNames = ["localhost", "127.0.0.1", "[::1]"];

/** Throws `foreignOrigin` for a Host or Origin that is not this server's. */
export function assertOwnAddress({ headers }: Pick<FastifyRequest, "headers">, own: OwnAddress): void {
  const hosts = ownHosts(own);
  if (headers.host === undefined || !hosts.includes(headers.host.toLowerCase()))
    throw new ProblemError("foreignOrigin");
  if (headers.origin === undefined) return;
  const origins = hosts.map((host) => `http://${host}`);
  if (own.origin !== null) origins.push(own.origin);
  if (!origins.includes(headers.origin.toLowerCase())) throw new ProblemError("foreignOrigin");
}

function ownHosts({ port, origin, bind }: OwnAddress): readonly string[] {
  const names = [...new Set([...loopbackNames, bind.includes(":") ? `[${bind}]` : bind])];
  const hosts = names.map((name) => `${name}:${port()}`);
  return origin === null ? hosts : [...hosts, new URL(origin).host];
}
