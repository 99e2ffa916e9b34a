import { describe, expect, test } from "vitest";
import { cachedPathFor } from "./route.ts";

const scope = "https://base.example/";
const get = (path: string, isNavigation = false) =>
  cachedPathFor({ method: "GET", url: `https://base.example${path}`, isNavigation }, scope);

describe("The service worker's choice", () => {
  test("serves the page of the app for the root and for every deep link", () => {
    expect(get("/", true)).toBe("");
    expect(get("/craft/a/walk?stop=nose#3", true)).toBe("");
  });

  test("serves a file under its own path, also when it is opened like a page", () => {
    expect(get("/assets/a-1.js")).toBe("assets/a-1.js");
    expect(get("/manifest.webmanifest", true)).toBe("manifest.webmanifest");
  });

  test("never touches the interface of the server, page or not", () => {
    expect(get("/api/entries")).toBeNull();
    expect(get("/api/calendar.ics", true)).toBeNull();
    expect(get("/api", true)).toBeNull();
    expect(get("/apiary", true)).toBe("");
  });

  test("never touches what is written or what is not ours", () => {
    expect(cachedPathFor({ method: "POST", url: `${scope}x`, isNavigation: true }, scope)).toBeNull();
    expect(
      cachedPathFor({ method: "GET", url: "https://other.example/a.js", isNavigation: false }, scope),
    ).toBeNull();
    const below = "https://base.example/preen/";
    expect(cachedPathFor({ method: "GET", url: `${scope}a.js`, isNavigation: false }, below)).toBeNull();
    expect(cachedPathFor({ method: "GET", url: `${below}api/x`, isNavigation: false }, below)).toBeNull();
    expect(cachedPathFor({ method: "GET", url: `${below}walk`, isNavigation: true }, below)).toBe("");
  });
});
