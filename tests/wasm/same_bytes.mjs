// Answers of the example command line, run natively and as WebAssembly in Node.js, compared byte for byte.
//
// node same_bytes.mjs MODULE PROGRAM CASE...
import { spawnSync } from "node:child_process";
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WASI } from "node:wasi";

const [module, program, ...cases] = process.argv.slice(2);
const compiled = await WebAssembly.compile(readFileSync(module));
const folder = mkdtempSync(join(tmpdir(), "same-bytes-"));

/** What the module writes for these arguments, and the status with which it ends. */
async function asModule(args) {
  const file = join(folder, "out");
  const stdout = openSync(file, "w");
  const wasi = new WASI({ version: "preview1", args: ["coach", ...args], preopens: { ".": "." }, stdout, returnOnExit: true });
  const instance = await WebAssembly.instantiate(compiled, wasi.getImportObject());
  const status = wasi.start(instance);
  closeSync(stdout);
  return { status, out: readFileSync(file) };
}

let differ = 0;
for (const name of cases) {
  const args = ["week", name, "--as", "json"];
  const native = spawnSync(program, args, { maxBuffer: 1 << 26 });
  const there = await asModule(args);
  if (native.stdout.length === 0 || native.status !== there.status || !native.stdout.equals(there.out)) {
    console.log(`${name}: status ${native.status} and ${there.status}, ${native.stdout.length} and ${there.out.length} bytes`);
    differ += 1;
  }
}
rmSync(folder, { recursive: true });
console.log(`${cases.length} cases, ${differ} answers differ`);
process.exit(differ === 0 && cases.length > 0 ? 0 : 1);
