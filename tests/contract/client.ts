// An integrator's program on the generated types: registers a kit, issues its pack, fetches it and other files.
import createClient from "openapi-fetch";
import { createHash, randomUUID } from "node:crypto";
import type { paths } from "./service.js";

const client = createClient<paths>({
  baseUrl: process.env.SERVICE!,
  headers: { authorization: `Bearer ${process.env.TOKEN}` },
});

function must<T>(what: string, answer: { data?: T; error?: unknown }): T {
  if (answer.data === undefined) throw new Error(`${what}: ${JSON.stringify(answer.error)}`);
  return answer.data;
}

const design = "fenrunner-two";
const letter = "B";
const serial = "QF-7002";
must(
  "import",
  await client.POST("/v1/kit-imports", {
    body: `serial,design,revision,customer_name,customer_email\n${serial},${design},${letter},Ines Halvard,ines@example.com\n`,
    bodySerializer: (body) => body,
    headers: { "content-type": "text/csv" },
  }),
);
const kit = must("kit", await client.GET("/v1/kits/{serial}", { params: { path: { serial } } }));
if (kit.revision !== letter) throw new Error(`revision ${kit.revision}`);

const issue = { params: { path: { serial }, header: { "Idempotency-Key": randomUUID() } }, body: { paper: "letter" as const } };
const pack = must("pack", await client.POST("/v1/kits/{serial}/packs", issue));
const again = must("pack again", await client.POST("/v1/kits/{serial}/packs", issue));
if (again.number !== pack.number) throw new Error("a repeat made another pack");

const path = { serial, number: pack.number };
const file = must(
  "file",
  await client.GET("/v1/kits/{serial}/packs/{number}/file", { params: { path }, parseAs: "arrayBuffer" }),
);
const hash = createHash("sha256").update(new Uint8Array(file)).digest("hex");
if (file.byteLength !== pack.size || hash !== pack.sha256) throw new Error("the file is not the pack");

const end = { design, letter, member: "back_stay.L", end: "to" as const };
const svg = must(
  "svg",
  await client.GET("/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/svg", {
    params: { path: end },
    parseAs: "text",
  }),
);
if (!svg.includes("<svg")) throw new Error("no drawing");
const pdf = must(
  "pdf",
  await client.GET("/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/pdf", {
    params: { path: end },
    parseAs: "arrayBuffer",
  }),
);
if (new TextDecoder().decode(new Uint8Array(pdf).subarray(0, 8)) !== "%PDF-1.7") throw new Error("no PDF");

const unknown = await client.GET("/v1/kits/{serial}", { params: { path: { serial: "QF-0000" } } });
if (unknown.error?.type !== "/problems/unknown-kit") throw new Error(JSON.stringify(unknown.error));
console.log("done");
