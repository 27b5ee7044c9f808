// Answers of one case after another as WebAssembly in Node.js and by native programs, compared byte for byte.
//
// node same_bytes.mjs MODULE FOLDER FROM-FOLDER CASE... -- PROGRAM...
//
// Each of the cases is asked of the module and of each program, by the built-in rules; the first FROM-FOLDER of them also by
// the rules of FOLDER, which programs parse on several threads, the module on one, and a program held to one processor on one.
import { spawnSync } from "node:child_process";
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WASI } from "node:wasi";

const [module, rules, fromFolder, ...rest] = process.argv.slice(2);
const cases = rest.slice(0, rest.indexOf("--"));
const programs = rest.slice(rest.indexOf("--") + 1);
const compiled = await WebAssembly.compile(readFileSync(module));
const folder = mkdtempSync(join(tmpdir(), "same-bytes-"));

/** What the module writes for these arguments, and the status with which it ends. */
async function asModule(args) {
  const file = join(folder, "out");
  const stdout = openSync(file, "w");
  const wasi = new WASI({ version: "preview1", args: ["module", ...args], preopens: { ".": "." }, stdout, returnOnExit: true });
  const instance = await WebAssembly.instantiate(compiled, wasi.getImportObject());
  const status = wasi.start(instance);
  closeSync(stdout);
  return { status, stdout: readFileSync(file) };
}

let asked = 0;
let differ = 0;
async function ask(name, more) {
  const there = await asModule([name, ...more]);
  for (const program of programs) {
    const [command, ...before] = program.split(" ");
    const args = [...before, "week", name, "--as", "json", ...more.flatMap((folder) => ["--rules", folder])];
    const native = spawnSync(command, args, { maxBuffer: 1 << 26 });
    asked += 1;
    if (native.stdout.length === 0 || native.status !== there.status || !native.stdout.equals(there.stdout)) {
      console.log(`${program}, ${name} ${more}: status ${native.status} and ${there.status}, ${native.stdout.length} and ${there.stdout.length} bytes`);
      differ += 1;
    }
  }
}
for (const [at, name] of cases.entries()) {
  await ask(name, []);
  if (at < Number(fromFolder)) await ask(name, [rules]);
}
rmSync(folder, { recursive: true });
console.log(`${cases.length} cases, ${programs.length} programs, ${asked} answers beside those of the module, ${differ} differ`);
process.exit(differ === 0 && asked > 0 ? 0 : 1);
