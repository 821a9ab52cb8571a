// What importing the library costs as JavaScript alone, Node's own start left out: a kernel's cell checks
// its types besides. Prints processor time and time by the clock as JSON.
const [before, cpu_us] = [performance.now(), process.cpuUsage()];
await import("../../lib/index.js");
const { user, system } = process.cpuUsage(cpu_us);
const wall_ms = performance.now() - before;
process.stdout.write(JSON.stringify({ wall_ms, cpu_ms: (user + system) / 1000 }));
