// The routes by which photos go up and come back. A photo is known by the hash of its bytes, as an entry names it; its
// bytes travel in JSON like everything else, as base64.
import { z } from "zod";
import { mostPhotoBytes } from "../core/facts/craft.ts";
import type { Route } from "./route.ts";
import { hashShape } from "./shapes.ts";

const data = z
  .string()
  .min(4)
  .max(Math.ceil(mostPhotoBytes / 3) * 4)
  .regex(/^[A-Za-z0-9+/]+={0,2}$/u, { error: "base64" })
  .meta({ description: "The bytes of a JPEG file, base64 (RFC 4648, section 4)." });

export const keepPhotoRoute = {
  id: "keepPhoto",
  method: "POST",
  path: "/api/photos",
  summary:
    "Keeps a photo that an entry names by its hash. Idempotent; answered once it is on the disk. Refused unless the bytes " +
    "have that hash and are a JPEG without data about place or camera.",
  auth: "bearer",
  body: z.strictObject({ hash: hashShape, data }),
  reply: z.object({ hash: hashShape }),
  problems: ["photoWrong", "photoErased", "storeFull"],
} as const satisfies Route;

export const photoRoute = {
  id: "photo",
  method: "GET",
  path: "/api/photos/:hash",
  summary: "A photo by its hash.",
  auth: "bearer",
  params: z.strictObject({ hash: hashShape }),
  reply: z.object({ hash: hashShape, data }),
  problems: ["photoUnknown"],
} as const satisfies Route;
