// The HTTP rim: one fastify instance with the guards that every request passes, the wire's routes, the built app, and
// one way of saying no. Thin: what is done stands behind the routes.
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import { fastify, type FastifyInstance, type FastifyReply, type FastifyRequest } from "fastify";
import { StoreError } from "../store/store-error.ts";
import { openApiRoute } from "../wire/exchange.ts";
import { openApiOf } from "../wire/openapi.ts";
import { routes } from "../wire/routes.ts";
import { limits } from "../wire/shapes.ts";
import { serveOn } from "./api.ts";
import { AppFiles } from "./app-files.ts";
import { serveExchange } from "./exchange-routes.ts";
import type { Founding } from "./founding.ts";
import type { OperatorServer } from "./operator-server.ts";
import { assertOwnAddress, type OwnAddress } from "./own-address.ts";
import { ProblemError } from "./problem-error.ts";

export type HttpOptions = {
  readonly server: OperatorServer;
  readonly founding: Founding;
  readonly version: string;
  /** Where the built app lies. */
  readonly appFolder: string;
  readonly own: OwnAddress;
  /** Told of faults of the server itself, which the caller only sees as `failed`. */
  readonly onFault: (error: unknown, what: string) => void;
};

/** A base has a dozen devices behind one proxy address; a device that catches up asks some dozen times a minute. */
const requestsPerMinute = 3_000;

export async function buildHttp(options: HttpOptions): Promise<FastifyInstance> {
  const { server, own, version } = options;
  const app = fastify({
    bodyLimit: limits.bytesPerBody,
    forceCloseConnections: true,
    trustProxy: own.origin === null ? false : "loopback",
    // A name in a body that would reach an object's prototype is refused, not dropped in silence.
    onProtoPoisoning: "error",
    onConstructorPoisoning: "error",
    routerOptions: { maxParamLength: 200 },
  });
  app.removeContentTypeParser("text/plain");
  app.addHook("onRequest", async (request) => assertOwnAddress(request, own));
  await app.register(helmet, helmetOptions);
  app.addHook("onSend", async (request, reply) => {
    reply.header(
      "permissions-policy",
      "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()",
    );
    if (isApi(request) && !reply.hasHeader("cache-control")) reply.header("cache-control", "no-store");
  });
  await app.register(rateLimit, { max: requestsPerMinute, timeWindow: 60_000 });
  app.setErrorHandler(async (error, request, reply) => {
    const problem = problemFrom(error);
    if (problem.code === "failed") options.onFault(error, `${request.method} ${request.url}`);
    return sayNo(reply, problem);
  });
  const serve = serveOn(app, (token) => server.directory.deviceOf(token));
  serve(openApiRoute, async () => openApiOf(routes, version) as { openapi: string });
  serveExchange(serve, server, options.founding, version);
  serveApp(app, new AppFiles(options.appFolder));
  return app;
}

const helmetOptions = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      "default-src": ["'none'"],
      "script-src": ["'self'"],
      "style-src": ["'self'"],
      "img-src": ["'self'", "blob:"],
      "font-src": ["'self'"],
      "connect-src": ["'self'"],
      "manifest-src": ["'self'"],
      "worker-src": ["'self'"],
      "media-src": ["'self'", "blob:"],
      "base-uri": ["'none'"],
      "form-action": ["'none'"],
      "frame-ancestors": ["'none'"],
    },
  },
  // Plain HTTP on loopback; the proxy that brings TLS also says that it stays.
  strictTransportSecurity: false,
  referrerPolicy: { policy: "no-referrer" as const },
};

function isApi({ url }: FastifyRequest): boolean {
  return url.startsWith("/api/") || url === "/health";
}

function serveApp(app: FastifyInstance, files: AppFiles): void {
  app.setNotFoundHandler(async (request, reply) => {
    const path = request.url.split(/[?#]/u)[0]!;
    const known = routes.filter((route) => matches(route.path, path));
    if (known.length > 0) {
      reply.header("allow", known.map((route) => route.method).join(", "));
      return sayNo(reply, new ProblemError("methodUnknown"));
    }
    const isRead = request.method === "GET" || request.method === "HEAD";
    if (isRead && (await files.answer(request, reply))) return reply;
    if (isRead && path === "/" && !files.isBuilt)
      return reply
        .code(503)
        .type("text/plain; charset=utf-8")
        .send("The app is not built yet: npm start builds it.\n");
    return sayNo(reply, new ProblemError("notFound"));
  });
}

function matches(pattern: string, path: string): boolean {
  const parts = pattern.split("/");
  const found = path.split("/");
  return parts.length === found.length && parts.every((part, i) => part.startsWith(":") || part === found[i]);
}

function sayNo(reply: FastifyReply, problem: ProblemError): FastifyReply {
  if (problem.retryAfter_ms !== null) reply.header("retry-after", problem.body.retryAfter_s);
  if (problem.status === 401) reply.header("www-authenticate", "Bearer");
  return reply
    .code(problem.status)
    .type("application/json; charset=utf-8")
    .send(JSON.stringify(problem.body));
}

/** Whatever was thrown, as a problem of the wire. What is not known is the server's own fault. */
function problemFrom(error: unknown): ProblemError {
  if (error instanceof ProblemError) return error;
  if (error instanceof StoreError && error.code === "full") return new ProblemError("storeFull");
  const { statusCode, code } = error as { statusCode?: number; code?: string };
  if (statusCode === 429) return new ProblemError("tooFast", { retryAfter_ms: 60_000 });
  if (code === "FST_ERR_CTP_BODY_TOO_LARGE" || statusCode === 413) return new ProblemError("tooLarge");
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) return new ProblemError("malformed");
  return new ProblemError("failed");
}
