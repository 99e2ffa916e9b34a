// What the demo prints when it listens: who can be chosen with which PIN, and how each craft stands.
import { demoPeople } from "../../demo/cast.ts";
import type { OperatorServer } from "./operator-server.ts";

export async function demoGreeting(_server: OperatorServer): Promise<readonly string[]> {
  const people = demoPeople.map(({ name, roles, pin }) => `  ${name} (${roles.join(", ")})  PIN ${pin}`);
  return ["The demo: everything in it is invented. Choose a person and enter the PIN:", ...people];
}
