// The floor of a kernel that checks types: TypeScript by itself, with the declarations of JavaScript and
// Node, checks as many small files as a session has cells, each in a program made from the one before.
// Prints its figures as JSON; a process of its own for each measurement.
import { setFlagsFromString } from "node:v8";
import ts from "typescript";
import { createTypeServices } from "../../kernels/session/types/type-services.js";
import type { Cost } from "./started-kernel.js";

const [, , count = "0"] = process.argv;
// As the kernel collects its garbage, so that memory can be compared.
setFlagsFromString("--heap-growing-percent=50");

function costSince(wall_ms: number, cpu_us: NodeJS.CpuUsage | undefined): Cost {
  const { user, system } = process.cpuUsage(cpu_us);
  return { wall_ms: performance.now() - wall_ms, cpu_ms: (user + system) / 1000 };
}

const services = createTypeServices(process.cwd());
const { rootDir: _, ...options } = services.options;
services.close();
const host = ts.createCompilerHost(options);
const { getSourceFile } = host;
const kept = new Map<string, ts.SourceFile | undefined>();
const name = "/cell.ts";
let text = "";
host.getSourceFile = (file, ...rest) => {
  if (file === name) return ts.createSourceFile(file, text, rest[0]);
  if (!kept.has(file)) kept.set(file, getSourceFile(file, ...rest));
  return kept.get(file);
};
let last: ts.Program | undefined;
function check(at: number): void {
  text = `export {};\nlet level_${at} = ${at};\nlevel_${at} + 1`;
  const given = { rootNames: [name], options, host, ...(last && { oldProgram: last }) };
  last = ts.createProgram(given);
  last.getSemanticDiagnostics(last.getSourceFile(name));
}

check(0);
const first = costSince(0, undefined);
const costs: Cost[] = [];
for (let at = 1; at <= Number(count); at++) {
  const [wall_ms, cpu_us] = [performance.now(), process.cpuUsage()];
  check(at);
  costs.push(costSince(wall_ms, cpu_us));
}
const memory_MB = process.memoryUsage.rss() / 2 ** 20;
process.stdout.write(JSON.stringify({ first, costs, memory_MB }));
