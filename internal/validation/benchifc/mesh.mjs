// Opens a model with web-ifc and makes all its meshes; prints the seconds of processor time that took.
import { createRequire } from 'node:module'
import fs from 'node:fs'

const [module, file] = process.argv.slice(1)
const ifc = createRequire(import.meta.url ?? 'file:///')(module + '/web-ifc-api-node.js')
const api = new ifc.IfcAPI()
await api.Init()
api.SetLogLevel(ifc.LogLevel.LOG_LEVEL_OFF)
const start = process.cpuUsage()
const model = api.OpenModel(new Uint8Array(fs.readFileSync(file)))
let pieces = 0
api.StreamAllMeshes(model, (mesh) => { pieces += mesh.geometries.size() })
const used = process.cpuUsage(start)
console.log(JSON.stringify({ Seconds: (used.user + used.system) / 1e6, Walls: pieces }))
