// The only door to the library: every public name, in the order of the work.

// Reading a survey
export { openSurvey } from "./place/open-survey.js";
export { OPEN_SURVEY_DEFAULTS, type OpenSurveyOptions } from "./place/open-options.js";
export { checkSurvey, type ResourceSummary, type SurveyCheck } from "./chain/check/check-survey.js";
export { checkText } from "./chain/check/check-text.js";
export { checkHtml } from "./chain/check/check-html.js";
export { type CheckJson, checkJson } from "./chain/check/check-json.js";
export type { StepReadiness } from "./chain/readiness.js";
export { faultLine, type SurveyFault } from "./survey/check/faults.js";
export { chainageAt, lonLatAt, positionAt } from "./survey/bank/position.js";
export { accountFor, type Fate, fateOf, usable } from "./survey/account/reading-status.js";
export { accountFigure } from "./survey/account/account-figure.js";
export { soilTemperature } from "./survey/temperature/soil-temperature.js";
export type { SoilTemperatures } from "./survey/temperature/temperatures.js";
export type * from "./survey/survey.js";

// Raw files of loggers into a survey folder
export { answersText, earlierAnswers, parseAnswers } from "./survey/import/answers.js";
export { type Answers, type Question, ruleBroken, type Settled } from "./survey/import/enquiry.js";
export type { RawFile } from "./survey/import/raw-file.js";
export type { RowAccount, TalliedRows } from "./survey/import/row-tally.js";
export {
  type ImportPlan,
  type ImportProposal,
  type ImportTarget,
  settleImport,
} from "./survey/import/settle-import.js";
export type { KnownCampaign } from "./survey/import/write/campaign-labels.js";
export type { FileRecord, ImportRecord } from "./survey/import/write/import-record.js";
export {
  type ImportedSurvey,
  type ImportInto,
  importSurvey,
  newDescriptor,
  settledLines,
} from "./survey/import/write/import-survey.js";
export type { ImportedTable } from "./survey/import/write/resource-files.js";

// Before the field
export { planProfiling } from "./planning/plan-profiling.js";
export { type PlanOptions, planDefaults } from "./planning/options.js";
export type * from "./planning/plan.js";
export { planLine } from "./sections/plan/plan-line.js";
export { type PlanLineOptions, planLineDefaults } from "./sections/plan/options.js";
export type { LinePlan, LineTarget, PlannedArray } from "./sections/plan/line-plan.js";

// The steps of an interpretation
export { placeReadings } from "./place/place-readings.js";
export { placeDefaults, type PlaceOptions, type PassShiftOption } from "./place/options.js";
export { correctDrift } from "./drift/correct-drift.js";
export { type DriftOptions, driftDefaults } from "./drift/options.js";
export type * from "./drift/drift.js";
export type { ZeroOffset } from "./drift/zero/fit-ground.js";
export type { HeightReading } from "./drift/zero/height-readings.js";
export { type ZeroLevelOptions, zeroLevelDefaults } from "./drift/zero/options.js";
export { type ZeroLevel, zeroLevel } from "./drift/zero/zero-level.js";
export { maskInterference } from "./interference/mask-interference.js";
export { type MaskOptions, maskDefaults } from "./interference/options.js";
export type * from "./interference/masked.js";
export { compareInterference } from "./interference/across/compare-interference.js";
export type { InterferenceAcross } from "./interference/across/stretches-across.js";
export { estimateDepthSlices } from "./depth/estimate-depth-slices.js";
export { type DepthOptions, type DepthTie, depthDefaults } from "./depth/options.js";
export type * from "./depth/depth-slices.js";
export { depthSounding } from "./depth/views/sounding/depth-sounding.js";
export type * from "./depth/views/sounding/sounding.js";
export { type SoundingOptions, soundingDefaults } from "./depth/views/sounding/options.js";
export { nominalView } from "./depth/views/nominal/nominal-view.js";
export { nominalDepth } from "./depth/views/nominal/nominal-depth.js";
export { type NominalOptions, nominalDefaults } from "./depth/views/nominal/options.js";
export type * from "./depth/views/nominal/nominal.js";
export { segmentBlocks } from "./blocks/segment-blocks.js";
export { type SegmentBlocksOptions, segmentBlocksDefaults } from "./blocks/options.js";
export {
  compareSegmentations,
  type Segmentation,
} from "./blocks/agreement/compare-segmentations.js";
export {
  type CompareSegmentationsOptions,
  compareSegmentationsDefaults,
} from "./blocks/agreement/options.js";
export type {
  ClassedStretch,
  ClassPair,
  SegmentationAgreement,
} from "./blocks/agreement/agreement.js";
export type * from "./blocks/blocks.js";
export { compareCampaigns } from "./campaigns/pair/compare-campaigns.js";
export { type CompareOptions, compareDefaults } from "./campaigns/pair/options.js";
export type * from "./campaigns/pair/changes.js";
export { trendOverCampaigns } from "./campaigns/trend/trend-over-campaigns.js";
export { type TrendOptions, trendDefaults } from "./campaigns/trend/options.js";
export type * from "./campaigns/trend/trend.js";
export { responseToHead } from "./campaigns/head/response-to-head.js";
export { type HeadOptions, headDefaults } from "./campaigns/head/options.js";
export type * from "./campaigns/head/head-response.js";
export type { ChainageRange } from "./campaigns/ranges.js";
export { invertibleLines } from "./sections/invertible-lines.js";
export { shapeUnder } from "./sections/shape-under.js";
export { waterBeside, type WaterDay } from "./sections/water/water-beside.js";
export { invertSection } from "./sections/invert-section.js";
export {
  type InvertSectionOptions,
  invertSectionDefaults,
  type SectionBreak,
  type SectionTie,
} from "./sections/section-options.js";
export type {
  Section,
  SectionReading,
  SectionValues,
  SectionWaterShare,
} from "./sections/section.js";
export type { ErrorModel } from "./sections/readings/error-model.js";
export { invertSectionChange } from "./sections/change/invert-section-change.js";
export { type SectionChangeOptions, sectionChangeDefaults } from "./sections/change/options.js";
export type * from "./sections/change/section-change.js";
export { compareWithWalk } from "./sections/meeting/compare-with-walk.js";
export type * from "./sections/meeting/meeting.js";
export { type MeetingOptions, meetingDefaults } from "./sections/meeting/options.js";
export { type TiePlaces, tiesFromSection } from "./sections/meeting/ties-from-section.js";
export { type SeepageEvidence, scoreSeepage } from "./seepage/score-seepage.js";
export {
  type SeepageOptions,
  seepageDefaults,
} from "./seepage/options.js";
export type * from "./seepage/seepage.js";
export { predictSoils, type SoilsEvidence } from "./boreholes/soils/predict-soils.js";
export { type SoilsOptions, soilsDefaults } from "./boreholes/soils/options.js";
export type * from "./boreholes/soils/soils.js";
export { type SitingEvidence, siteBoreholes } from "./boreholes/siting/site-boreholes.js";
export { type SitingOptions, sitingDefaults } from "./boreholes/siting/options.js";
export type * from "./boreholes/siting/plan.js";

// The chain as a whole, and what it hands over
export { type Interpretation, interpret } from "./chain/interpret.js";
export { type StepOptions, stepOptions } from "./chain/step-options.js";
export { rerunFrom } from "./chain/rerun-from.js";
export {
  type SecondInterpretation,
  secondInterpretation,
} from "./chain/second-interpretation.js";
export { interpretOtherLines } from "./chain/lines/interpret-other-lines.js";
export type {
  Combination,
  CombinationOptions,
  Combinations,
} from "./chain/robustness/combinations.js";
export { tryAlternatives } from "./chain/robustness/try-alternatives.js";
export { tryCombinations } from "./chain/robustness/try-combinations.js";
export { type IssueOptions, TitleBlock, titleBlock } from "./chain/front/title-block.js";
export { gatherFindings } from "./chain/gather-findings.js";
export { headline } from "./chain/front/summary.js";
export { answerRequirements } from "./chain/requirements/answer-requirements.js";
export type { RequirementAnswer, RequirementState } from "./chain/requirements/requirement.js";
export type * from "./chain/findings.js";
export type { LineInterpretation, LineWork, Work } from "./chain/work.js";
export { type HandedOver, type HandOverOptions, handOver } from "./handover/hand-over.js";

// Many reaches as one inventory
export { type ReachesRead, readReaches } from "./inventory/reaches/read-reaches.js";
export type { Reach } from "./inventory/reaches/reach.js";
export { interpretReach } from "./inventory/interpret-reach.js";
export type { ReachRecord } from "./inventory/record/reach-record.js";
export { removeReachTables, writeReachTables } from "./inventory/tables/write-tables.js";
export {
  type GatheredInventory,
  type GatherOptions,
  gatherInventory,
} from "./inventory/gather/gather-inventory.js";
export type { GatheredReach } from "./inventory/gather/gathered-reach.js";
export type { ReachOutcome } from "./inventory/gather/outcome.js";
export { type PooledClasses, pooledClasses } from "./inventory/classes/pooled-classes.js";
export { type PooledWeights, pooledWeights } from "./inventory/weights/pooled-weights.js";
export { type RankedZone, rankedZones } from "./inventory/ranking/ranked-zones.js";
export { openInventory } from "./inventory/open/open-inventory.js";
export { type QueryOptions, queryInventory } from "./inventory/open/query-inventory.js";
export { rankingOverReaches } from "./inventory/open/ranking-over-reaches.js";
export { type GroundOverReaches, groundOverReaches } from "./inventory/open/ground-over-reaches.js";
export { holesOverReaches } from "./inventory/open/holes-over-reaches.js";
export { unknownOverReaches } from "./inventory/open/unknown-over-reaches.js";
export type * from "./inventory/open/inventory.js";
export type { QueriedRow, QueriedValue } from "./inventory/open/query-tables.js";
export { type HoleBudget, sharedPlan } from "./inventory/holes/shared-plan.js";

// An appendix executed again, against what it holds
export { appendixClaims } from "./review/claims/appendix-claims.js";
export type * from "./review/claims/claim.js";
export { claimsFigure } from "./review/claims/claims-figure.js";
export { claimsText, compareClaims } from "./review/claims/compare-claims.js";
export type { AppendixFiles } from "./review/compare-files.js";
export type * from "./review/review.js";
export {
  type ReviewedAppendix,
  findingsIn,
  reviewAppendix,
  reviewTolerance,
} from "./review/review-appendix.js";
export { reviewHtml } from "./review/review-html.js";
export { comparedText, reviewParts, secondText } from "./review/review-lines.js";
export { secondBlocks } from "./review/second-blocks.js";
export { readReviewSheet, type SheetRead } from "./review/sheet/read-sheet.js";
export {
  type ReviewedClaim,
  type ReviewSheet,
  sheetText,
  type Verdict,
} from "./review/sheet/sheet.js";
export { reviewSheetCsv } from "./review/sheet/write-sheet.js";

// Decisions, results and how they show themselves
export { Decision, type DecisionReasons, decide } from "./step/decision.js";
export { type Given, resultValue, StepResult } from "./step/step-result.js";
export type { Basis, Caution, StepAccount } from "./step/step-account.js";
export { type Accounting, closes, type SetAsideCount, setAsideTotal } from "./step/account.js";
export type { Figure, Table, TableColumn, TableRow, VegaLiteSpec } from "./step/figure.js";
export { type Fault, faultText, StepError } from "./step/step-error.js";
export { type FrameSource, toDataFrame } from "./step/data-frame/data-frame.js";
export type { DisplayBundle } from "./step/show/display.js";
export { renderPng } from "./step/show/render-png.js";
export { renderSvg } from "./step/show/render-svg.js";

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
export { SECTION_RESPONSE_DEFAULTS, type SectionResponseOptions } from "./sections/options.js";
export type {
  SectionEarth,
  SectionElectrode,
  SectionSpread,
  SectionWater,
  WaterCover,
} from "./sections/section-input.js";
export type { CrossSectionEarth } from "./sections/shape/crest-response.js";
export type { EmbankmentShape } from "./earth/embankment/shape.js";
export {
  type EmbankmentCoilFactor,
  embankmentCoilFactor,
} from "./earth/embankment/embankment-coil-factor.js";
export type { CoilGeometry, CoilOrientation } from "./earth/coil-quadrature.js";
export { embankmentFactor, embankmentFactors } from "./sections/embankment-factor.js";
export { groundsAt, SOIL_RESISTIVITY } from "./earth/soils.js";
export { type BlanketSection, type BlanketSeepage, blanketSeepage } from "./earth/blanket.js";
export { type ChangePoints, findChangePoints } from "./blocks/cut/find-change-points.js";
export { findChangePointPath } from "./blocks/cut/find-change-point-path.js";
export {
  type ChangePointOptions,
  type ChangePointPathOptions,
  changePointDefaults,
} from "./blocks/cut/options.js";
export type { PathStep } from "./blocks/cut/penalty-path.js";
export type { ChangeKind } from "./blocks/cut/segment-cost.js";
export {
  type MannKendall,
  type MannKendallOptions,
  mannKendall,
} from "./numerics/statistics/mann-kendall.js";
export { type TheilSen, type TheilSenOptions, theilSen } from "./numerics/statistics/theil-sen.js";
export { type Pettitt, pettitt } from "./numerics/statistics/pettitt.js";
export { cohenKappa, type Kappa } from "./numerics/statistics/cohen-kappa.js";
export { falseDiscoveryAdjusted } from "./campaigns/false-discovery.js";

// Figure forms, for figures of one's own in the same look
export { curveSpec } from "./figures/curve/curve.js";
export { depthSpec } from "./figures/depth/depth.js";
export { planMapSpec } from "./figures/plan/plan-map.js";
export { profileSpec } from "./figures/profile.js";
export { rankingSpec } from "./figures/ranking.js";
export { stripSpec } from "./figures/strip/strip.js";
export { classColours, directionColours, greys, resistivityRamp, theme } from "./figures/theme.js";

// An executed notebook as a page
export type { AppendixDocument } from "./document/model/appendix-document.js";
export { type AppendixOptions, appendixDocument } from "./document/model/document-of.js";
export type { AppendixNotebook } from "./document/model/notebook.js";
export type { RunRecord } from "./document/model/provenance-blocks.js";
export { renderAppendix } from "./document/render-appendix.js";
export { type AppendixPaper, renderAppendixPdf } from "./document/render-appendix-pdf.js";
