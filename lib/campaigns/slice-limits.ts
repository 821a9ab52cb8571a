/** What several campaigns compared by slices cannot tell, for trends and responses alike. */
export const SLICE_LIMITS =
  "Depth slices of all campaigns were compared: a part of the line where coils were carried at " +
  "another height, or zeros were off, is not told from the ground here. compareCampaigns reads two " +
  "campaigns from their channels; what it gives to an offset, or does not find, is no finding here.";
