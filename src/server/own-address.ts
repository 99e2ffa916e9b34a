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
  const names = ownNames(own);
  const proxied = own.origin === null ? [] : [new URL(own.origin)];
  const hosts = [...names, ...proxied.map(({ host }) => host)];
  if (headers.host === undefined || !hosts.includes(headers.host.toLowerCase()))
    throw new ProblemError("foreignOrigin");
  const origins = [...names.map((name) => `http://${name}`), ...proxied.map(({ origin }) => origin)];
  if (headers.origin !== undefined && !origins.includes(headers.origin.toLowerCase()))
    throw new ProblemError("foreignOrigin");
}

/** As a Host header names this server when it is asked directly. */
function ownNames({ port, bind }: OwnAddress): readonly string[] {
  const names = [...new Set([...loopbackNames, bind.includes(":") ? `[${bind}]` : bind])];
  return names.map((name) => `${name}:${port()}`);
}
