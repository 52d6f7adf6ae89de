// Builds the page: web/src -> server/plytide/page. Run through build.py, which brings Node and the packages.
//
//   page/manifest.json        what was built (below); the server reads it to render the shell, tests read it
//   page/shell.html.jinja     `/`, rendered by the server with `page` = that manifest
//   page/sw.js                the service worker, with the list of files to keep written into it
//   page/manifest.webmanifest and manifest.es.webmanifest
//   page/assets/<name>-<hash>.<ext>   everything else; safe to serve as immutable
//
// manifest.json: {build, first, main, parts: [urls], beside: [urls], style, font, icon, touch_icon, words: {key: text} of
//                 the first
//                 screen, precache: [urls], files: {url: bytes}}
import { createHash } from "node:crypto";
import { cpSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { build } from "esbuild";

const here = import.meta.dirname;
const target = process.env.PLYTIDE_PAGE_DIR ?? join(here, "../server/plytide/page");
const out = `${target}.new-${process.pid}`; // swapped in whole at the end: a running server never sees half a page
const assets = join(out, "assets");
mkdirSync(assets, { recursive: true });

const common = {
  bundle: true, minify: true, target: ["es2022", "safari16.4"], legalComments: "none", logLevel: "warning",
  jsx: "automatic", jsxImportSource: "preact", absWorkingDir: here,
  loader: { ".woff2": "file" }, entryNames: "[name]-[hash]", chunkNames: "[name]-[hash]", assetNames: "[name]-[hash]",
  metafile: true, outdir: assets,
};

const FIRST = "src/App.tsx";
const BESIDE = "src/today/beside.ts";

/**
 * What is fetched later can count on all of the first script being there, and on what stands beside the first screen:
 * told so, esbuild leaves each of these in one piece.
 */
const onePiece = {
  name: "one piece",
  setup({ onResolve, onLoad, resolve }) {
    onResolve({ filter: /./ }, async ({ path, kind, resolveDir }) => kind === "dynamic-import"
      ? { path: (await resolve(path, { kind: "import-statement", resolveDir })).path, namespace: "later" } : undefined);
    onLoad({ filter: /./, namespace: "later" }, ({ path }) => ({
      contents: [FIRST, ...(path.endsWith(BESIDE) ? [] : [BESIDE])].map((file) => `import "./${file}";`).join("") + `export * from ${JSON.stringify(path)};`,
      resolveDir: here, loader: "ts",
    }));
  },
};

const url = (file) => "/assets/" + basename(file);

/**
 * Builds entry points. `made`: which output each became, and each file that one of them fetches later,
 * {"src/main.tsx": "/assets/main-….js"}; `needs(entry)`: its output and what that cannot run without.
 */
async function bundle(entries, options) {
  const { metafile: { outputs } } = await build({ ...common, ...options, entryPoints: entries });
  const files = Object.fromEntries(Object.entries(outputs).map(([file, { entryPoint }]) => [entryPoint, file]));
  const follow = (file, found) => {
    found.add(url(file));
    for (const { path, kind } of outputs[file].imports) if (kind === "import-statement" && !found.has(url(path))) follow(path, found);
    return found;
  };
  const made = Object.fromEntries(Object.entries(files).map(([entry, file]) => [entry, url(file)]));
  return { made, needs: (entry) => [...follow(files[entry], new Set())] };
}

/** The texts of the first screen, for the shell: the catalogue stays the one place where words are. */
async function firstWords() {
  const of = async (area, name) => {
    const { outputFiles } = await build({ ...common, entryPoints: [`src/words/en/${area}.ts`], format: "esm", write: false, metafile: false });
    return (await import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString("base64")}`))[name];
  };
  return { ...(await of("today", "today")), ...(await of("beside", "beside")) };
}

const hashed = (file) => {
  const bytes = readFileSync(file);
  const [stem, ext = "txt"] = basename(file).split(/\.(?=[^.]+$)/);
  const name = `${stem}-${createHash("sha256").update(bytes).digest("hex").slice(0, 8)}.${ext}`;
  writeFileSync(join(assets, name), bytes);
  return "/assets/" + name;
};

const main = await bundle(["src/main.tsx"], { format: "esm", splitting: true, plugins: [onePiece] });
const first = await bundle(["src/first.ts"], { format: "iife" }); // classic and blocking: it must run before anything can be tapped
const style = await bundle(["src/style/index.css", "src/style/font.css"], {});
hashed(join(here, "node_modules/@fontsource-variable/commissioner/LICENSE")); // the font's licence travels with it
const icons = Object.fromEntries(
  readdirSync(join(here, "src/manifest")).filter((f) => /\.(png|svg)$/.test(f))
    .map((f) => [f, hashed(join(here, "src/manifest", f))]),
);
const web = JSON.parse(readFileSync(join(here, "src/manifest/manifest.json"), "utf8"));
for (const icon of [...web.icons, ...web.shortcuts.flatMap((s) => s.icons ?? [])]) icon.src = icons[icon.src];
writeFileSync(join(out, "manifest.webmanifest"), JSON.stringify(web));
const spanish = JSON.parse(readFileSync(join(here, "src/manifest/es.json"), "utf8")); // its texts alone; the server gives it to who asks for Spanish
const shortcuts = web.shortcuts.map((shortcut, i) => ({ ...shortcut, name: spanish.shortcuts[i] }));
writeFileSync(join(out, "manifest.es.webmanifest"), JSON.stringify({ ...web, ...spanish, shortcuts }));
cpSync(join(here, "src/shell.html.jinja"), join(out, "shell.html.jinja"));

const files = Object.fromEntries(readdirSync(assets).sort().map((f) => ["/assets/" + f, statSync(join(assets, f)).size]));
const shell = readFileSync(join(out, "shell.html.jinja"));
const atOnce = main.needs("src/main.tsx");
const page = {
  build: createHash("sha256").update(JSON.stringify(files)).update(shell).update(JSON.stringify(web)).digest("hex").slice(0, 12),
  first: first.made["src/first.ts"],
  main: main.made["src/main.tsx"],
  parts: atOnce.slice(1), // fetched along with main rather than after it
  beside: main.needs("later:" + join(here, BESIDE)).filter((file) => !atOnce.includes(file)), // and these behind them
  style: style.made["src/style/index.css"],
  font: style.made["src/style/font.css"],
  icon: icons["icon.svg"],
  touch_icon: icons["icon-192.png"],
  words: await firstWords(),
  // The whole page, so that every screen opens offline; of the font's cuts only the one nearly everyone needs.
  precache: ["/", "/manifest.webmanifest", ...Object.keys(files).filter((f) => !/latin-ext|\.png$|\.txt$/.test(f))],
  files,
};
// The worker changes exactly when the build does: that is how a browser notices a new version.
await build({
  ...common, entryPoints: ["src/sw.ts"], format: "iife", entryNames: "[name]", outdir: out,
  define: { BUILD: JSON.stringify(page.build), PRECACHE: JSON.stringify(page.precache) },
});
writeFileSync(join(out, "manifest.json"), JSON.stringify(page, null, 1));
rmSync(target, { recursive: true, force: true });
renameSync(out, target);
console.log(`page ${page.build}: ${Object.keys(files).length} files`);
