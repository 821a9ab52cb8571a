// The thread with the sockets: heartbeat, interrupts and shutdown answer while cells compute in the
// main thread.
import { type MessagePort, parentPort, workerData } from "node:worker_threads";
import { readConnection } from "./connection.js";
import { stopTogetherWithParent } from "./parent-process.js";
import type { ThreadData } from "./port-messages.js";
import { Relay } from "./relay.js";
import { onInterruptSignal } from "./signals.js";

const { connectionFile, info, shielded, unsent } = workerData as ThreadData;
const port = parentPort as MessagePort;
const relay = new Relay({
  connection: readConnection(connectionFile),
  info,
  shielded,
  unsent,
  post: (message) => port.postMessage(message),
});
port.on("message", (message) => relay.take(message));
onInterruptSignal(() => void relay.interrupt());
stopTogetherWithParent(() => void relay.shutDown());
await relay.start();
