// The layers of the house, lowest first. A module may import its own floor's folder and any floor
// below, skipping as many as it likes; it never climbs. Steps stand side by side in the order of the
// work: a step may use an earlier one's results, never a later one's.
const floors = [
  "numerics",
  "earth",
  "step",
  "figures",
  "survey",
  "place",
  "drift",
  "interference",
  "planning",
  "depth",
  "blocks",
  "campaigns",
  "sections",
  "seepage",
  "boreholes",
  "chain",
  "handover",
  "inventory",
  "review",
  "document",
  "index",
];
const path = (floor) => `^lib/${floor}(/|\\.ts$)`;

module.exports = {
  forbidden: [
    { name: "no-cycle", severity: "error", from: {}, to: { circular: true } },
    ...floors.slice(0, -1).map((floor, i) => ({
      name: `${floor}-never-climbs`,
      severity: "error",
      from: { path: path(floor) },
      to: { path: floors.slice(i + 1).map(path) },
    })),
    {
      name: "lib-knows-no-kernel",
      severity: "error",
      from: { path: "^lib/" },
      to: { path: "^(kernels|data-demo|bench|tests)/" },
    },
    {
      name: "kernels-use-the-door",
      severity: "error",
      from: { path: "^kernels/" },
      to: { path: "^lib/(?!index\\.ts$)" },
    },
    {
      name: "resolvable",
      severity: "error",
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    exclude: { path: "^(dist|kernels/tensor)" },
  },
};
