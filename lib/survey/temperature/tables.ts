import { itemAt } from "../../numerics/arrays.js";
import type { Table } from "../../step/figure.js";
import { utcText } from "../iso-time.js";
import type { SoilTemperatures } from "./temperatures.js";

/** One row for each campaign and depth. */
export function temperatureTable({ campaigns, depths_m }: SoilTemperatures): Table {
  return {
    id: "soil-temperature",
    caption: "Soil temperature by depth at each campaign, and the factor to 25 °C.",
    columns: [
      { field: "campaign", label: "Campaign" },
      { field: "date", label: "Date" },
      { field: "depth_m", label: "Depth (m)", digits: 1 },
      { field: "temperature_degC", label: "Temperature (°C)", digits: 1 },
      { field: "factor", label: "Factor to 25 °C", digits: 3 },
    ],
    rows: campaigns.flatMap((one) =>
      depths_m.map((depth_m, k) => ({
        campaign: one.campaign,
        date: utcText(one.time_s)?.slice(0, 10) ?? null,
        depth_m,
        temperature_degC: itemAt(one.temperature_degC, k),
        factor: itemAt(one.factorTo25, k),
      })),
    ),
  };
}
