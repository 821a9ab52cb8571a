// Spoils a survey folder or a notebook again and again for some seconds and runs the built command
// on it: node fuzz.mjs folder|notebook SECONDS SEED FOLDER. Prints what came of it as JSON.
import { cpSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { runCommand } from "../../../dist/kernels/command/program.js";
import { interpret, openSurvey } from "../../../dist/lib/index.js";
import { seededRandom } from "../../../dist/lib/numerics/random.js";
import { mutatedJson, mutatedText } from "./mutations.mjs";

const [kind, seconds, seed, folder] = process.argv.slice(2);
const random = seededRandom(Number(seed));
const told = { runs: 0, well: 0, refused: 0, faults: [] };

process.stdout.write = () => true;
let said = "";
process.stderr.write = (text) => {
  said += text;
  return true;
};

function spoil(file) {
  const text = readFileSync(file, "utf8");
  let other = text;
  for (let i = 0; i <= random.integer(3); i++) {
    const isJson = /\.(json|geojson|ipynb)$/.test(file) && random.uniform() < 0.9;
    try {
      other = isJson
        ? JSON.stringify(mutatedJson(random, JSON.parse(other)))
        : mutatedText(random, other);
    } catch {
      other = mutatedText(random, other);
    }
  }
  writeFileSync(file, other);
}

/** What `check` accepts the chain can follow, or refuses as bad input. */
async function followed(survey) {
  try {
    await interpret(await openSurvey(survey), []);
  } catch (error) {
    if (error.name === "StepError") return;
    throw error;
  }
}

async function round(number) {
  const spoiled = join(folder, "spoiled");
  rmSync(spoiled, { recursive: true, force: true });
  cpSync(join(folder, "sound"), spoiled, { recursive: true });
  const files = readdirSync(spoiled);
  spoil(join(spoiled, files[random.integer(files.length)]));
  said = "";
  const words = kind === "folder" ? ["check", spoiled] : ["run", join(spoiled, files[0])];
  const exitCode = await runCommand([...words, "--trace"]);
  if (exitCode === 0) told.well += 1;
  else if (exitCode === 3) throw new Error(said);
  else told.refused += 1;
  if (exitCode === 0 && kind === "folder" && number % 8 === 0) await followed(spoiled);
}

const end = performance.now() + 1000 * Number(seconds);
for (let number = 0; performance.now() < end; number++) {
  try {
    await round(number);
  } catch (error) {
    const kept = join(folder, `fault-${told.faults.length}`);
    cpSync(join(folder, "spoiled"), kept, { recursive: true });
    told.faults.push(`${kept}: ${error.stack ?? error}`.slice(0, 2000));
  }
  told.runs += 1;
}
writeFileSync(join(folder, "told.json"), JSON.stringify(told));
process.exit(0);
