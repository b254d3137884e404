// The description against the published schema of OpenAPI 3.1, by a validator of another maker.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

const modules = createRequire(`${process.env.MATCHMARK_NODE_MODULES}/`);
const { Validator } = await import(modules.resolve("@seriousme/openapi-schema-validator"));
const result = await new Validator().validate(JSON.parse(await readFile(process.argv[2], "utf8")));
if (!result.valid) {
  console.error(JSON.stringify(result.errors, null, 1));
  process.exit(1);
}
console.log("valid");
