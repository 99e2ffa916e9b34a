// The one route of an empty server: making the operator and its first administrator.
import { z } from "zod";
import type { Route } from "./route.ts";
import { ledgerShape, personIdShape } from "./shapes.ts";

export const foundRoute = {
  id: "found",
  method: "POST",
  path: "/api/found",
  summary:
    "Founds the operator of an empty server. The code is printed where the server runs, and holds once.",
  auth: "open",
  body: z.strictObject({
    code: z.string().min(1).max(40),
    operatorName: z.string().min(1).max(120),
    administrator: z.strictObject({
      id: personIdShape,
      name: z.string().min(1).max(80),
      pin: z.string().min(4).max(64),
    }),
  }),
  reply: z.object({ ledger: ledgerShape }),
  problems: ["codeWrong", "alreadyFounded", "storeFull"],
} as const satisfies Route;
