// Solves mixed-integer programmes with the WASM build of HiGHS: reads from standard
// input, line by line, the file of a programme in LP format and its time limit in
// seconds, and prints for each its status, its objective and the processor seconds
// that it took. The folder in which npm installed `highs` is the only argument.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { join } from "node:path";

const loadHighs = createRequire(join(process.argv[2], "package.json"))("highs");

for await (const line of createInterface({ input: process.stdin })) {
  const [file, limit] = line.split("\t");
  const before = process.cpuUsage();
  let answer;
  try {
    const highs = await loadHighs(); // anew each time: an instance that ran into its limit is not to be trusted again
    answer = highs.solve(readFileSync(file, "utf8"), { time_limit: Number(limit), output_flag: false });
  } catch (e) {
    answer = { Status: String(e.message ?? e).split("\n")[0], ObjectiveValue: NaN };
  }
  const used = process.cpuUsage(before);
  console.log([answer.Status, answer.ObjectiveValue, (used.user + used.system) / 1e6].join("\t"));
}
