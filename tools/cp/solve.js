// Solves one MiniZinc model with Chuffed: node solve.js MODEL DATA. It runs
// the WebAssembly worker of the package outside a browser, one process per solve, and
// prints the objective of each solution and the last status.
const fs = require("fs"), path = require("path");
const dist = path.join(__dirname, "node_modules/minizinc/dist");
const [model, data] = process.argv.slice(2);
let listener;
globalThis.addEventListener = (type, f) => { if (type === "message") listener = f; };
globalThis.postMessage = (m) => {
  if (m.type === "solution") console.log("end", m.output.json ? m.output.json.mk : m.output.default);
  if (m.type === "status") console.log("status", m.status);
  if (m.type === "error") console.log("error", JSON.stringify(m));
  if (m.type === "exit") process.exit(0);
  if (m.type === "ready" || m.type === undefined) start();
};
let started = false;
function start() {
  if (started) return;
  started = true;
  listener({ data: {
    jsonStream: true,
    files: { "m.mzn": fs.readFileSync(model, "utf8"), "d.dzn": fs.readFileSync(data, "utf8") },
    args: ["--solver", "chuffed", "-f", "-a", "--output-mode", "json", "m.mzn", "d.dzn"],
  } });
}
globalThis.self = globalThis;
eval(fs.readFileSync(path.join(dist, "minizinc-worker.js"), "utf8"));
listener({ data: { wasmURL: path.join(dist, "minizinc.wasm"), dataURL: path.join(dist, "minizinc.data") } });
