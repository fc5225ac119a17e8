// Bundles the page into ../dist: one script, one style, the template.
import { copyFile, mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = (name) => fileURLToPath(new URL(name, import.meta.url));

await mkdir(here("../dist"), { recursive: true });
await build({
  entryPoints: [here("src/main.ts")],
  outfile: here("../dist/page.js"),
  bundle: true,
  minify: true,
  format: "iife",
  target: ["es2022"],
  charset: "ascii",
  legalComments: "none",
  logLevel: "warning",
});
await build({
  entryPoints: [here("src/page.css")],
  outfile: here("../dist/page.css"),
  minify: true,
  logLevel: "warning",
});
await copyFile(here("index.html"), here("../dist/index.html"));
