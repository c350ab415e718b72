// Lets node run the TypeScript of the page in unit tests: transpiles each module
// as it is loaded. Types are checked by tsc, not here.
import { register } from 'node:module'
import { isMainThread } from 'node:worker_threads'
import { readFileSync } from 'node:fs'
import ts from 'typescript'

export async function load(url, context, next) {
  if (url.endsWith('.json')) {
    const text = readFileSync(new URL(url), 'utf8')
    return { format: 'module', shortCircuit: true, source: `export default ${text}` }
  }
  if (!/\.tsx?$/.test(url)) return next(url, context)
  const source = ts.transpileModule(readFileSync(new URL(url), 'utf8'), {
    fileName: url,
    compilerOptions: { target: 'es2022', module: 'esnext', jsx: 'react-jsx', jsxImportSource: 'preact', inlineSourceMap: true },
  }).outputText
  return { format: 'module', shortCircuit: true, source }
}

// Hooks run on a thread of their own, which loads this module again.
if (isMainThread) register(import.meta.url)
