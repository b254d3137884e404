// Holds a model against the glTF 2.0 specification with the validator of its authors, and tells what it has and finds as JSON.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const packages = process.env.MATCHMARK_NODE_MODULES;
const require = createRequire(packages ? join(packages, "x.js") : import.meta.url);
const validator = require("gltf-validator");
const bytes = new Uint8Array(readFileSync(join(process.argv[2], "frame.glb")));
const report = await validator.validateBytes(bytes);
const length = new DataView(bytes.buffer).getUint32(12, true);
const document = JSON.parse(Buffer.from(bytes.subarray(20, 20 + length)).toString("utf8"));
console.log(JSON.stringify({ issues: report.issues, nodes: document.nodes, asset: document.asset }));
