// Every route of the HTTP API. A route that is not in this list is not served; one that is listed and not served fails
// the tests.
import {
  enrolRoute,
  healthRoute,
  helloRoute,
  offerRoute,
  openApiRoute,
  pullRoute,
  pushRoute,
  revokeRoute,
  sheetRoute,
} from "./exchange.ts";
import { foundRoute } from "./founding.ts";
import { keepPhotoRoute, photoRoute } from "./photos.ts";
import type { Route } from "./route.ts";

export const routes: readonly Route[] = [
  healthRoute,
  openApiRoute,
  helloRoute,
  foundRoute,
  enrolRoute,
  revokeRoute,
  offerRoute,
  pushRoute,
  pullRoute,
  sheetRoute,
  keepPhotoRoute,
  photoRoute,
];
