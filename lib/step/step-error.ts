// The class lives on the lowest floor so that the physics under this floor can throw it too.
export { type Fault, faultText, quoted, StepError } from "../numerics/step-error.js";
