import { fileURLToPath } from "node:url";

/** The folder of the repository: the compiled script stands three folders down. */
export const repository = fileURLToPath(new URL("../../..", import.meta.url)).replace(/\/$/, "");
