import { describe, expect, test } from "vitest";
import { assertOwnAddress, type OwnAddress } from "./own-address.ts";

const own: OwnAddress = { port: () => 4717, origin: "https://preen.example.org", bind: "192.0.2.7" };

function isOwn(headers: { readonly host?: string; readonly origin?: string }, address = own): boolean {
  try {
    assertOwnAddress({ headers }, address);
    return true;
  } catch {
    return false;
  }
}

describe("A server behind a proxy", () => {
  test("answers under the proxy's address, its own and the loopback ones", () => {
    expect(isOwn({ host: "preen.example.org", origin: "https://preen.example.org" })).toBe(true);
    expect(isOwn({ host: "preen.example.org" })).toBe(true);
    expect(isOwn({ host: "192.0.2.7:4717", origin: "http://192.0.2.7:4717" })).toBe(true);
    expect(isOwn({ host: "127.0.0.1:4717" })).toBe(true);
    expect(isOwn({ host: "[2001:db8::7]:4717" }, { ...own, bind: "2001:db8::7" })).toBe(true);
  });

  test("answers nobody else, nor the proxy's name without its protection", () => {
    expect(isOwn({ host: "preen.example.org", origin: "http://preen.example.org" })).toBe(false);
    expect(isOwn({ host: "preen.example.org:4717" })).toBe(false);
    expect(isOwn({ host: "other.example.org", origin: "https://preen.example.org" })).toBe(false);
    expect(isOwn({ origin: "https://preen.example.org" })).toBe(false);
    expect(isOwn({ host: "192.0.2.7:4717" }, { ...own, bind: "localhost" })).toBe(false);
  });
});
