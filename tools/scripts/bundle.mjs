// bundle.mjs FOLDER ENTRY NAME: writes NAME in FOLDER from the TypeScript ENTRY and the npm libraries installed in FOLDER, and the style
// sheet that comes along. Each begins with the licenses of the libraries that are in it, as these ask of every copy.
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";

const [folder, entry, name] = process.argv.slice(2);
const esbuild = createRequire(resolve(folder, "package.json"))("esbuild");

/** The folder of the library that a bundled file is of; nothing for a file of ours. */
function library(file) {
  return /^.*\/node_modules\/(@[^/]+\/)?[^/]+(?=\/)/.exec(file)?.[0];
}

/** Each license once, under the names of those who share it. */
function licenses(files) {
  const sharing = new Map();
  for (const place of [...new Set(files.map(library).filter(Boolean))].sort()) {
    const about = JSON.parse(readFileSync(join(place, "package.json"), "utf8"));
    const file = readdirSync(place).find((f) => /^licen[cs]e/i.test(f));
    if (!file) throw new Error(`${about.name} has no license file`);
    const text = readFileSync(join(place, file), "utf8").replaceAll("\r", "").trim();
    if (/\*\/|<\/script/i.test(text)) throw new Error(`the license of ${about.name} would end the comment that it stands in`);
    sharing.set(text, [...(sharing.get(text) ?? []), `${about.name} ${about.version}`]);
  }
  if (!sharing.size) return "";
  return `/*! In this file:\n\n${[...sharing].map(([text, names]) => `${names.join(", ")}\n\n${text}\n`).join("\n----\n\n")}*/\n`;
}

const made = await esbuild.build({
  entryPoints: [entry], outfile: join(folder, name), nodePaths: [resolve(folder, "node_modules")], write: false, metafile: true,
  bundle: true, minify: true, target: "es2022", jsx: "automatic", jsxImportSource: "preact", logLevel: "warning",
});
for (const [path, { inputs }] of Object.entries(made.metafile.outputs)) {
  const files = Object.keys(inputs).filter((f) => inputs[f].bytesInOutput > 0).map((f) => resolve(f));
  writeFileSync(path, licenses(files) + made.outputFiles.find((f) => f.path === resolve(path)).text);
}
