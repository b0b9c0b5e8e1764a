// Runs geometry jobs through the engine's browser kernel under Pyodide in Node.
// Arguments: the site_src folder, the Pyodide package folder, the geos-wasm package folder.
// Jobs come as JSON on standard input, the results go out as JSON.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [site, pyodideFolder, geosFolder] = process.argv.slice(2).map((path) => resolve(path));
const load = (/** @type {string[]} */ ...parts) => import(pathToFileURL(join(...parts)).href);

const { loadPyodide } = await load(pyodideFolder, "pyodide.mjs");
const { startGeos, forPython } = await load(site, "worker", "geos_kernel.js");
const initGeosJs = (await load(geosFolder, "build", "package", "geos.esm.js")).default;

let jobs = "";
for await (const part of process.stdin.setEncoding("utf8")) jobs += part;

const batch = await startGeos(initGeosJs);
const python = await loadPyodide({ indexURL: pyodideFolder });
python.mountNodeFS("/site", site);
python.globals.set("batch", forPython(batch));
python.globals.set("jobs_text", jobs);
process.stdout.write(python.runPython(readFileSync(new URL("kernel_jobs.py", import.meta.url), "utf8")));
