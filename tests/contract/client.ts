// An integrator's program on the generated types: registers a kit, issues its pack, fetches it and other files, follows what happens,
// and checks what is posted to it.
import createClient from "openapi-fetch";
import { createHash, createHmac, randomUUID, timingSafeEqual } from "node:crypto";
import { createServer } from "node:http";
import { setTimeout } from "node:timers/promises";
import type { paths, webhooks } from "./service.js";

type EventBody = webhooks["event"]["post"]["requestBody"]["content"]["application/json"];
type MessageBody = webhooks["holder-message"]["post"]["requestBody"]["content"]["application/json"];

const client = createClient<paths>({
  baseUrl: process.env.SERVICE!,
  headers: { authorization: `Bearer ${process.env.TOKEN}` },
});

function must<T>(what: string, answer: { data?: T; error?: unknown }): T {
  if (answer.data === undefined) throw new Error(`${what}: ${JSON.stringify(answer.error)}`);
  return answer.data;
}

// Takes what is posted, once its signature is right.
const posted = new Map<string, string>();
const receiver = createServer((request, response) => {
  const parts: Buffer[] = [];
  request.on("data", (part: Buffer) => parts.push(part));
  request.on("end", () => {
    const body = Buffer.concat(parts).toString();
    const header = (name: string) => String(request.headers[name]);
    const signed = `${header("webhook-id")}.${header("webhook-timestamp")}.${body}`;
    const wanted = Buffer.from(`v1,${createHmac("sha256", process.env.WEBHOOK_SECRET!).update(signed).digest("base64")}`);
    const given = Buffer.from(header("webhook-signature"));
    const right = wanted.length === given.length && timingSafeEqual(wanted, given);
    if (right) posted.set(header("webhook-id"), body);
    response.writeHead(right ? 204 : 400).end();
  });
});
receiver.listen(Number(process.env.WEBHOOK_PORT), "127.0.0.1");

async function eventsAfter(first: number) {
  const found: EventBody[] = [];
  for (let after = first; ; ) {
    const answer = must("events", await client.GET("/v1/events", { params: { query: { after, limit: 50 } } }));
    if (answer.events.length === 0) return found;
    found.push(...answer.events);
    after = answer.next;
  }
}

const before = (await eventsAfter(0)).at(-1)?.id ?? 0;
const design = "fenrunner-two";
const letter = "A";
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

// Files for machines, of the revision and of the kit.
const revision = { design, letter };
must(
  "files",
  await client.GET("/v1/designs/{design}/revisions/{letter}/files", { params: { path: revision } }),
);
const table = must(
  "table",
  await client.GET("/v1/kits/{serial}/files/{file}", {
    params: { path: { serial, file: "cut-sheet.csv" } },
    parseAs: "text",
  }),
);
if (!String(table).includes("back_stay.L")) throw new Error("no cut sheet");
const archive = must(
  "archive",
  await client.GET("/v1/designs/{design}/revisions/{letter}/files/{file}", {
    params: { path: { ...revision, file: "all.zip" } },
    parseAs: "arrayBuffer",
  }),
);
if (new TextDecoder().decode(new Uint8Array(archive as ArrayBuffer).subarray(0, 2)) !== "PK") throw new Error("no archive");

// A change, told to the holder, answered, and put into the kit.
const notice = must(
  "notice",
  await client.POST("/v1/designs/{design}/notices", {
    params: { path: { design } },
    body: { from: "A", to: "B", class: "recommended" as const, text: "Change the stays before you weld them." },
  }),
);
must(
  "acknowledgement",
  await client.POST("/v1/kits/{serial}/notices/{notice}/acknowledgement", {
    params: { path: { serial, notice: notice.number } },
  }),
);
must(
  "move",
  await client.POST("/v1/kits/{serial}/moves", {
    params: { path: { serial } },
    body: { revision: "B", reason: "All parts replaced." },
  }),
);

// What happened, in order.
const happened = (await eventsAfter(before)).filter((event) => event.facts.kit === serial);
const types = happened.map((event) => event.type).join(" ");
if (types !== "kit-registered pack-issued notice-acknowledged kit-moved") throw new Error(types);
const issued = happened[1]!;
if (issued.facts.sha256 !== pack.sha256) throw new Error(JSON.stringify(issued));

// The same, posted: the pack as an event, and the notice as a message to its holder.
const ids = { event: `event.${issued.id}.webhook`, message: `notice.${design}.${notice.number}.${serial}.webhook` };
for (let waited = 0; !(posted.has(ids.event) && posted.has(ids.message)); waited++) {
  if (waited > 600) throw new Error(`only ${[...posted.keys()]} were posted`);
  await setTimeout(100);
}
const event = JSON.parse(posted.get(ids.event)!) as EventBody;
if (event.id !== issued.id || event.subject !== `/v1/kits/${serial}/packs/${pack.number}`) throw new Error(JSON.stringify(event));
const message = JSON.parse(posted.get(ids.message)!) as MessageBody;
if (message.type !== "notice" || message.kit !== serial) throw new Error(JSON.stringify(message));

const unknown = await client.GET("/v1/kits/{serial}", { params: { path: { serial: "QF-0000" } } });
if (unknown.error?.type !== "/problems/unknown-kit") throw new Error(JSON.stringify(unknown.error));
receiver.close();
console.log("done");
process.exit(0);
