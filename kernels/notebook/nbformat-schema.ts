// The notebook format 4.5 as a JSON Schema, written from the open specification (Jupyter notebook
// format, version 4.5: cells carry an id). Cells and outputs of unknown kind are refused; metadata
// are open, apart from the keys that the format itself gives a meaning.

const multilineText = {
  oneOf: [{ type: "string" }, { type: "array", items: { type: "string" } }],
};

const tags = { type: "array", uniqueItems: true, items: { type: "string", pattern: "^[^,]+$" } };

const cellMetadata = {
  type: "object",
  properties: {
    name: { type: "string", pattern: "^.+$" },
    tags,
    jupyter: { type: "object" },
    collapsed: { type: "boolean" },
    scrolled: { enum: [true, false, "auto"] },
    execution: { type: "object" },
    format: { type: "string" },
  },
};

const mimeBundle = {
  type: "object",
  additionalProperties: {},
  patternProperties: {
    "^(?!application/json$)[a-zA-Z0-9]+/[a-zA-Z0-9.+_-]+(?<!\\+json)$": multilineText,
  },
};

const executionCount = { type: ["integer", "null"], minimum: 0 };

function object(properties: Record<string, unknown>, required = Object.keys(properties)) {
  return { type: "object", additionalProperties: false, required, properties };
}

const outputs = {
  stream: object({
    output_type: { const: "stream" },
    name: { type: "string" },
    text: multilineText,
  }),
  display_data: object({
    output_type: { const: "display_data" },
    data: mimeBundle,
    metadata: { type: "object" },
  }),
  execute_result: object({
    output_type: { const: "execute_result" },
    execution_count: executionCount,
    data: mimeBundle,
    metadata: { type: "object" },
  }),
  error: object({
    output_type: { const: "error" },
    ename: { type: "string" },
    evalue: { type: "string" },
    traceback: { type: "array", items: { type: "string" } },
  }),
};

const id = { type: "string", pattern: "^[a-zA-Z0-9-_]+$", minLength: 1, maxLength: 64 };
const attachments = { type: "object", additionalProperties: mimeBundle };

function textCell(kind: string) {
  const properties = {
    id,
    cell_type: { const: kind },
    metadata: cellMetadata,
    source: multilineText,
    attachments,
  };
  return object(properties, ["id", "cell_type", "metadata", "source"]);
}

const cells = {
  raw: textCell("raw"),
  markdown: textCell("markdown"),
  code: object({
    id,
    cell_type: { const: "code" },
    metadata: cellMetadata,
    source: multilineText,
    outputs: { type: "array", items: choice("output_type", outputs) },
    execution_count: executionCount,
  }),
};

// One of several forms, told apart by a property, so that a fault is reported in the form meant.
function choice(propertyName: string, forms: Record<string, unknown>) {
  return {
    type: "object",
    required: [propertyName],
    discriminator: { propertyName },
    oneOf: Object.values(forms),
  };
}

/** JSON Schema (draft 7, with `discriminator`) of a notebook in the format 4.5. */
export const nbformatSchema = {
  $schema: "http://json-schema.org/draft-07/schema#",
  ...object({
    metadata: {
      type: "object",
      properties: {
        kernelspec: {
          type: "object",
          required: ["name", "display_name"],
          properties: { name: { type: "string" }, display_name: { type: "string" } },
        },
        language_info: {
          type: "object",
          required: ["name"],
          properties: { name: { type: "string" } },
        },
        title: { type: "string" },
        authors: { type: "array" },
      },
    },
    nbformat: { const: 4 },
    nbformat_minor: { type: "integer", minimum: 5 },
    cells: { type: "array", items: choice("cell_type", cells) },
  }),
};
