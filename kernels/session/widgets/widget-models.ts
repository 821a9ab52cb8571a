import { type WidgetFrontEnd, WidgetModel, type WidgetState } from "./widget-model.js";

/** Packages of the models and their versions. Source: Jupyter widgets, "Model state", 2.0.0. */
const base = { module: "@jupyter-widgets/base", version: "2.0.0" };
const controls = { module: "@jupyter-widgets/controls", version: "2.0.0" };

type Package = typeof base;
type Changed = (changes: WidgetState) => void;

function named(of: Package, name: string, view = of, viewName = name): WidgetState {
  return {
    _model_module: of.module,
    _model_module_version: of.version,
    _model_name: `${name}Model`,
    _view_module: view.module,
    _view_module_version: view.version,
    _view_name: `${viewName}View`,
  };
}

/** Makes the models of one session, and knows them all. */
export class WidgetModels {
  readonly #frontEnd: WidgetFrontEnd;
  readonly #models: WidgetModel[] = [];
  readonly #shared = new Map<string, WidgetModel>();

  constructor(frontEnd: WidgetFrontEnd) {
    this.#frontEnd = frontEnd;
  }

  /** Whether a widget made now would be seen. */
  get areSeen(): boolean {
    return this.#frontEnd.isThere();
  }

  /** The states of all models, by their ids. */
  get states(): Readonly<Record<string, unknown>> {
    return Object.fromEntries(this.#models.map((one) => [one.id, one.described]));
  }

  /** A control with a text before it. `told.changed` is told what the user changed. */
  control(
    name: "FloatSlider" | "Dropdown" | "ToggleButton",
    state: WidgetState,
    told: { readonly changed: Changed; readonly closed?: () => void },
  ): WidgetModel {
    const style = { FloatSlider: "Slider", Dropdown: "Description", ToggleButton: "ToggleButton" };
    const own = { description_allow_html: false, tabbable: null, tooltip: null, disabled: false };
    return this.#made({ ...own, ...this.#kind(name, style[name]), ...state }, told);
  }

  html(value: string, classes: readonly string[]): WidgetModel {
    const own = { description: "", placeholder: "", value, _dom_classes: classes };
    return this.#made({ ...own, ...this.#kind("HTML", "HTMLStyle") });
  }

  box(name: "VBox" | "HBox", children: readonly WidgetModel[]): WidgetModel {
    const own = { box_style: "", children: children.map((one) => one.reference) };
    return this.#made({ ...own, ...this.#kind(name, null) });
  }

  #kind(name: string, style: string | null): WidgetState {
    const layout = this.#once("Layout", () => named(base, "Layout"));
    if (style === null) return { ...named(controls, name), layout: layout.reference };
    const styled = this.#once(style, () => ({
      ...named(controls, style.endsWith("Style") ? style : `${style}Style`, base, "Style"),
      ...(style === "Slider" || style === "Description" ? { description_width: "initial" } : {}),
    }));
    return { ...named(controls, name), layout: layout.reference, style: styled.reference };
  }

  // Widgets of one kind look alike, so they share what says how they look.
  #once(name: string, state: () => WidgetState): WidgetModel {
    const made = this.#shared.get(name) ?? this.#made(state());
    this.#shared.set(name, made);
    return made;
  }

  #made(
    state: WidgetState,
    told: { readonly changed?: Changed; readonly closed?: () => void } = {},
  ): WidgetModel {
    const model = new WidgetModel(this.#frontEnd, state, told);
    this.#models.push(model);
    return model;
  }
}
