import { readFileSync } from "node:fs";

/** What Jupyter's connection file says. Source: Jupyter client documentation, "Connection files". */
export interface Connection {
  readonly transport: "tcp" | "ipc";
  readonly ip: string;
  /** Empty: messages are not signed. */
  readonly key: string;
  readonly shell_port: number;
  readonly control_port: number;
  readonly stdin_port: number;
  readonly iopub_port: number;
  readonly hb_port: number;
}

const ports = ["shell_port", "control_port", "stdin_port", "iopub_port", "hb_port"] as const;
export type Port = (typeof ports)[number];

export function readConnection(file: string): Connection {
  const given = JSON.parse(readFileSync(file, "utf8")) as Partial<Connection> & {
    readonly signature_scheme?: string;
  };
  const { transport = "tcp", ip = "127.0.0.1", key = "", signature_scheme } = given;
  if (transport !== "tcp" && transport !== "ipc") {
    throw new Error(`${file}: transport must be tcp or ipc, got ${String(transport)}`);
  }
  const scheme = signature_scheme || "hmac-sha256";
  if (scheme !== "hmac-sha256") {
    throw new Error(`${file}: signature_scheme must be hmac-sha256, got ${scheme}`);
  }
  for (const port of ports) {
    if (!Number.isInteger(given[port])) throw new Error(`${file}: ${port} must be a port`);
  }
  return { ...(given as Connection), transport, ip, key };
}

/** Where one of the kernel's sockets listens. */
export function address(connection: Connection, port: Port): string {
  const { transport, ip } = connection;
  return `${transport}://${ip}${transport === "tcp" ? ":" : "-"}${connection[port]}`;
}
