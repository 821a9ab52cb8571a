// The one file here that knows the library: types, and the steps that the menagerie judges.
export {
  type Campaign,
  type Channel,
  checkSurvey,
  coilResponse,
  compareCampaigns,
  correctDrift,
  type DepthOptions,
  type DepthSlices,
  estimateDepthSlices,
  interpret,
  openSurvey,
  type Pass,
  segmentBlocks,
} from "../../lib/index.js";
