import { demoFiles } from "./survey-files.js";
import { writeFiles } from "./write-files.js";

// Writes the demo survey and its truth: `main.js [folder]`, by default into data-demo.
writeFiles(process.argv[2] ?? "data-demo", demoFiles());
