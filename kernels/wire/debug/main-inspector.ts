import { Session as Inspector } from "node:inspector";

type Listener = (parameters: never) => void;

/** V8's inspector of the main thread, from another thread: it answers while the main thread is paused. */
export class MainInspector {
  readonly #inspector = new Inspector();

  constructor() {
    this.#inspector.connectToMainThread();
  }

  /** Asks for one thing. Rejects with the inspector's own words. */
  post<Result>(method: string, parameters: object = {}): Promise<Result> {
    return new Promise<Result>((resolve, reject) => {
      this.#inspector.post(method, parameters, (error, result) => {
        // Promises that are settled within the inspector's own call are not seen to.
        setImmediate(() => (error === null ? resolve(result as Result) : reject(error)));
      });
    });
  }

  on(event: string, listener: Listener): void {
    this.#inspector.on(event, ({ params }: { readonly params: never }) => {
      setImmediate(() => listener(params));
    });
  }

  close(): void {
    this.#inspector.disconnect();
  }
}
