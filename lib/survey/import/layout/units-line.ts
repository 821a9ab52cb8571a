const UNIT =
  /^[[(]?(ppm|ppt|ppb|%|m?s\/m|[mµμu]s\/c?m|m?s m-1|m?s m\^-1|mmho\/m|k?hz|m|cm|mm|km|°|°c|c|deg(rees)?|°? ?[nesw]|v|mv|a|ma|s|sec|h|min|utc|gmt|local|hh:mm(:ss)?(\.s+)?|[dmyt]{1,4}[-./][dmyj]{1,4}[-./][dmyja]{1,4}.*|hhmmss|yyyymmdd|-|date|time|ohm[- .]?m|ω|db)[\])]?$/i;

/** True for a row of units under a header: most of its filled cells are units. */
export function isUnitsLine(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== "");
  const units = filled.filter((cell) => UNIT.test(cell.trim()));
  return units.length >= 1 && units.length >= 0.6 * filled.length;
}
