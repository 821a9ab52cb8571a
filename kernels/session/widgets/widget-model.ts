/** What widgets need of a comm. */
export interface WidgetComm {
  readonly id: string;
  send(data: Readonly<Record<string, unknown>>): void;
  onMessage: ((message: WidgetMessage) => void | Promise<void>) | null;
  onClose: ((message: WidgetMessage) => void | Promise<void>) | null;
}

export interface WidgetMessage {
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly buffers: readonly Uint8Array[];
}

/** The front end, as far as widgets need it. */
export interface WidgetFrontEnd {
  /** Whether somebody is there who could move a widget of the code that runs now. */
  isThere(): boolean;
  open(
    target: string,
    data: Readonly<Record<string, unknown>>,
    more: { readonly metadata: Readonly<Record<string, unknown>> },
  ): WidgetComm;
}

export type WidgetState = Readonly<Record<string, unknown>>;

/** Source: Jupyter widgets, "Widget messaging protocol" 2.1.0. */
const protocol = "2.1.0";
const target = "jupyter.widget";
/** The type of an output that shows a widget. */
export const widgetView = "application/vnd.jupyter.widget-view+json";

/** One model of the public widget protocol, kept the same here and in the front end. */
export class WidgetModel {
  readonly #comm: WidgetComm;
  #state: WidgetState;

  /** `changed` is told what the front end has changed; `closed`, that it shows the widget no more. */
  constructor(
    frontEnd: WidgetFrontEnd,
    state: WidgetState,
    told: {
      readonly changed?: (changes: WidgetState) => void;
      readonly closed?: () => void;
    } = {},
  ) {
    this.#state = state;
    const data = { state, buffer_paths: [] };
    this.#comm = frontEnd.open(target, data, { metadata: { version: protocol } });
    this.#comm.onMessage = ({ data: { method, state: changes } }) => {
      if (method === "request_state") this.#send(this.#state);
      if (method !== "update" || typeof changes !== "object" || changes === null) return;
      this.#state = { ...this.#state, ...changes };
      told.changed?.(changes as WidgetState);
    };
    this.#comm.onClose = () => told.closed?.();
  }

  get id(): string {
    return this.#comm.id;
  }

  /** How the states of other models name this one. */
  get reference(): string {
    return `IPY_MODEL_${this.id}`;
  }

  set(changes: WidgetState): void {
    this.#state = { ...this.#state, ...changes };
    this.#send(changes);
  }

  /** As the front end asks for it where it was loaded again. */
  get described(): Readonly<Record<string, unknown>> {
    const { _model_name, _model_module, _model_module_version } = this.#state;
    return {
      model_name: _model_name,
      model_module: _model_module,
      model_module_version: _model_module_version,
      state: this.#state,
    };
  }

  /** The output that shows it. */
  get view(): Readonly<Record<string, unknown>> {
    return { [widgetView]: { version_major: 2, version_minor: 0, model_id: this.id } };
  }

  #send(state: WidgetState): void {
    this.#comm.send({ method: "update", state, buffer_paths: [] });
  }
}
