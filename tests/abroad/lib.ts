// The one file here that knows the library: types, and the steps that the menagerie judges.
export {
  type Campaign,
  type Changes,
  type Channel,
  checkSurvey,
  coilResponse,
  correctDrift,
  type DepthOptions,
  type DepthSlices,
  estimateDepthSlices,
  interpret,
  openSurvey,
  type Pass,
} from "../../lib/index.js";
