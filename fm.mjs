import { makeSurvey, campaignsOf } from "./dist/tests/abroad/index.js";
import * as B from "./dist/lib/index.js";
import { scoreProfile } from "./dist/lib/interference/metal/score-profile.js";
import { lineProfiles } from "./dist/lib/interference/anomaly/line-profiles.js";
import { intervalMedians } from "./dist/lib/interference/parallel/interval-medians.js";
import * as NG from "./dist/lib/interference/parallel/nearest-ground.js";
const [seed=65, bank="broad", length=2000, ground="blocks", dump] = process.argv.slice(2);
const made = makeSurvey({seed:+seed, ground, instrument:"three separations HCP", errors:"noise", length_m:+length, campaigns:1, ...(bank==="none"?{}:{slopes:{bank}})});
const [c] = campaignsOf(made);
const d = B.correctDrift(c).value;
const dc = d.campaign ?? d;
const m = B.maskInterference(dc).value;
console.log(seed, bank, length, ground, m.interference?.map(s=>[s.from_m,s.to_m,s.cause].join()), JSON.stringify(m.alongLine));
if (dump) {
  const profiles = lineProfiles(dc).map(p=>scoreProfile(p,16));
  const med = intervalMedians(profiles, dc.crossSections, ()=>false);
  const cat = NG.groundCatalogue(med.channels, med.height_m, med.shapes.shapes[0]??null);
  console.log(med.channels.map(c=>c.field));
  med.intervals.forEach((iv,k)=>{ const g=NG.distanceFromGround(cat,iv); console.log(iv.from_m, Array.from(iv.level,x=>x.toFixed(0)).join(" "), "err%", Array.from(iv.error,(e,i)=>(100*e/iv.level[i]).toFixed(1)).join(" "), "sq", g?.square.toFixed(1), g?.freedom, Array.from(g?.residual??[],x=>x.toFixed(1)).join(" ")); });
}
