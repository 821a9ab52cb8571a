// A process with one session: calls its methods as messages ask, and sends back what they give and
// what was put out meanwhile.
import { Session } from "../../../dist/kernels/session/session.js";

let outputs = [];
const options = JSON.parse(process.argv[2] ?? "{}");
const onOutput = (output) => {
  outputs.push(output);
};
const session = new Session({ folder: process.cwd(), onOutput, ...options });

process.on("message", async ({ id, method, args }) => {
  const interrupting = method === "interrupt";
  if (!interrupting) outputs = [];
  const value = await session[method](...args);
  process.send({ id, value, outputs: interrupting ? [] : outputs });
});
process.on("disconnect", () => process.exit());
process.send({ id: 0 });
