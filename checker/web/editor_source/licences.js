// Prints the licence of every package whose code is in the bundle.
import { build } from "esbuild";
import { readFileSync, readdirSync } from "node:fs";

const made = await build({ entryPoints: ["entry.js"], bundle: true, format: "esm", write: false, metafile: true });
const used = new Set(Object.keys(made.metafile.inputs).map((path) => path.match(/node_modules\/((?:@[^/]+\/)?[^/]+)/)?.[1]));
for (const name of [...used].filter(Boolean).sort()) {
  const folder = `node_modules/${name}`;
  const { version } = JSON.parse(readFileSync(`${folder}/package.json`, "utf-8"));
  const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
  console.log(`== ${name} ${version}\n\n${readFileSync(`${folder}/${file}`, "utf-8").trim()}\n`);
}
