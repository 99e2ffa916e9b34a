// Checks the whole tree against the rules of the house.
import { dirname } from "node:path";
import { breachText, readSourceFiles } from "../source-files.ts";
import { checkHouse } from "./house-rules.ts";

const root = dirname(dirname(import.meta.dirname));
// The rules' own folder holds what they look for.
const files = readSourceFiles(root, ".", /\.(?:ts|tsx|mjs|md|css|html|yml|yaml|json|geojson)$/u).filter(
  ({ path }) => path !== "package-lock.json" && !path.startsWith("tools/house-rules/"),
);
const breaches = checkHouse(files);
for (const breach of breaches) console.log(breachText(breach));
if (breaches.length > 0) process.exitCode = 1;
