// The only door to the library: every public name, in the order of the work.

// Reading a survey
export { openSurvey } from "./survey/open-survey.js";
export { OPEN_SURVEY_DEFAULTS, type OpenSurveyOptions } from "./survey/open-survey-options.js";
export { checkSurvey, type ResourceSummary, type SurveyCheck } from "./survey/check-survey.js";
export { checkText } from "./survey/check-text.js";
export { checkHtml } from "./survey/check-html.js";
export type { StepOutlook } from "./survey/outlook.js";
export { faultLine, type SurveyFault } from "./survey/faults.js";
export { chainageAt, lonLatAt, positionAt } from "./survey/position.js";
export { accountFor, type Fate, fateOf, usable } from "./survey/fate.js";
export { accountFigure } from "./survey/account-figure.js";
export { soilTemperature } from "./survey/soil-temperature.js";
export type { SoilTemperatures } from "./survey/soil-temperature-types.js";
export type * from "./survey/survey.js";

// Before the field
export { planProfiling } from "./planning/plan-profiling.js";
export { planDefaults } from "./planning/plan-options.js";
export type * from "./planning/plan.js";

// The steps of an interpretation
export { correctDrift } from "./drift/correct-drift.js";
export { type DriftOptions, driftDefaults } from "./drift/drift-options.js";
export type * from "./drift/drift.js";
export {
  type HeightReading,
  type ZeroLevel,
  type ZeroLevelOptions,
  type ZeroOffset,
  zeroLevel,
  zeroLevelDefaults,
} from "./drift/zero-level.js";
export { maskInterference } from "./interference/mask-interference.js";
export { type MaskOptions, maskDefaults } from "./interference/mask-options.js";
export type * from "./interference/masked.js";
export {
  compareInterference,
  type InterferenceAcross,
} from "./interference/compare-interference.js";
export { estimateDepthSlices } from "./depth/estimate-depth-slices.js";
export { type DepthOptions, type DepthTie, depthDefaults } from "./depth/depth-options.js";
export type { Strengths } from "./depth/line-prior.js";
export type * from "./depth/depth-slices.js";
export { depthSounding } from "./depth/depth-sounding.js";
export {
  type Sounding,
  type SoundingOptions,
  type SoundingReach,
  soundingDefaults,
} from "./depth/sounding.js";
export { nominalView } from "./depth/nominal-view.js";
export { nominalDepth } from "./depth/nominal-depth.js";
export { type NominalOptions, nominalDefaults } from "./depth/nominal-options.js";
export type * from "./depth/nominal.js";
export {
  type SegmentBlocksOptions,
  segmentBlocks,
  segmentBlocksDefaults,
} from "./blocks/segment-blocks.js";
export {
  type ClassedStretch,
  type CompareSegmentationsOptions,
  compareSegmentations,
  compareSegmentationsDefaults,
  type SegmentationAgreement,
} from "./blocks/compare-segmentations.js";
export type * from "./blocks/blocks.js";
export { compareCampaigns } from "./campaigns/compare-campaigns.js";
export { type CompareOptions, compareDefaults } from "./campaigns/compare-options.js";
export type * from "./campaigns/changes.js";
export { trendOverCampaigns } from "./campaigns/trend-over-campaigns.js";
export { type TrendOptions, trendDefaults } from "./campaigns/trend-options.js";
export type * from "./campaigns/trend.js";
export { responseToHead } from "./campaigns/response-to-head.js";
export { type HeadOptions, headDefaults } from "./campaigns/head-options.js";
export type * from "./campaigns/head-response.js";
export type { ChainageRange } from "./campaigns/unknown-stretches.js";
export { type SeepageEvidence, scoreSeepage } from "./seepage/score-seepage.js";
export {
  type EvidenceWeight,
  type SeepageOptions,
  seepageDefaults,
} from "./seepage/seepage-options.js";
export type * from "./seepage/seepage.js";

// The chain as a whole, and what it hands over
export { type Interpretation, interpret } from "./interpret/interpret.js";
export { tryAlternatives } from "./interpret/try-alternatives.js";
export { gatherFindings } from "./interpret/gather-findings.js";
export type * from "./interpret/findings.js";
export type { Work } from "./interpret/work.js";
export { type HandedOver, type HandOverOptions, handOver } from "./handover/hand-over.js";

// Decisions, results and how they show themselves
export { Decision, type DecisionReasons, decide } from "./result/decision.js";
export { type Given, resultValue, StepResult } from "./result/step-result.js";
export type { Basis, Caution, StepAccount } from "./result/step-account.js";
export { type Accounting, closes, type SetAsideCount, setAsideTotal } from "./result/account.js";
export type { Figure, Table, TableColumn, TableRow, VegaLiteSpec } from "./result/figure.js";
export { type Fault, faultText, StepError } from "./result/step-error.js";
export { type Records, toDataFrame } from "./result/data-frame.js";
export type { DisplayBundle } from "./result/display.js";
export { renderPng } from "./result/render-png.js";
export { renderSvg } from "./result/render-svg.js";

// The physics and statistics under the steps
export {
  type CoilReading,
  type Coils,
  type ConductiveEarth,
  coilResponse,
} from "./earth/coil-response.js";
export { type CoilSensitivity, coilSensitivity } from "./earth/coil-sensitivity.js";
export { halfSpaceConductivity } from "./earth/half-space-conductivity.js";
export { cumulativeResponse, lowInductionConductivity, skinDepth } from "./earth/half-space.js";
export { factorTo25 } from "./earth/temperature.js";
export { type ResistiveEarth, spreadResponse } from "./earth/spread-response.js";
export { geometricFactor, type Spread } from "./earth/spread.js";
export { sectionResponse } from "./sections/section-response.js";
export {
  SECTION_RESPONSE_DEFAULTS,
  type SectionEarth,
  type SectionElectrode,
  type SectionResponseOptions,
  type SectionSpread,
} from "./sections/section-input.js";
export type { EmbankmentShape } from "./earth/embankment/shape.js";
export {
  type EmbankmentCoilFactor,
  embankmentCoilFactor,
} from "./earth/embankment/embankment-coil-factor.js";
export type { CoilGeometry, CoilOrientation } from "./earth/coil-quadrature.js";
export { embankmentFactor, embankmentFactors } from "./sections/embankment-factor.js";
export { groundsAt, SOIL_RESISTIVITY } from "./earth/soils.js";
export { type BlanketSection, type BlanketSeepage, blanketSeepage } from "./earth/blanket.js";
export {
  type ChangePointOptions,
  type ChangePoints,
  changePointDefaults,
  findChangePoints,
} from "./blocks/find-change-points.js";
export {
  type ChangePointPathOptions,
  findChangePointPath,
} from "./blocks/find-change-point-path.js";
export type { PathStep } from "./blocks/penalty-path.js";
export type { ChangeKind } from "./blocks/segment-cost.js";
export { type MannKendall, type MannKendallOptions, mannKendall } from "./numerics/mann-kendall.js";
export { type TheilSen, type TheilSenOptions, theilSen } from "./numerics/theil-sen.js";
export { type Pettitt, pettitt } from "./numerics/pettitt.js";
export { cohenKappa, type Kappa } from "./numerics/cohen-kappa.js";
export { falseDiscoveryAdjusted } from "./campaigns/false-discovery.js";

// Figure forms, for figures of one's own in the same look
export { curveSpec } from "./figures/curve.js";
export { depthSpec } from "./figures/depth.js";
export { planMapSpec } from "./figures/plan-map.js";
export { profileSpec } from "./figures/profile.js";
export { rankingSpec } from "./figures/ranking.js";
export { stripSpec } from "./figures/strip.js";
export { classColours, directionColours, greys, resistivityRamp, theme } from "./figures/theme.js";

// An executed notebook as a page
export type { AppendixNotebook } from "./appendix/notebook.js";
export { type AppendixOptions, renderAppendix } from "./appendix/render-appendix.js";
