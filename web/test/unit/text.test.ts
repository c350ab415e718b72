import assert from 'node:assert/strict'
import { readFileSync, readdirSync } from 'node:fs'
import { test } from 'node:test'
import { texts } from '../../src/text/index.ts'

const languages = Object.keys(texts) as (keyof typeof texts)[]
const places = (text: string) => [...text.matchAll(/\{\w+\}/g)].map((m) => m[0]).sort()

for (const l of languages) {
  test(`texts: ${l} has the keys of English, with the same values in them`, () => {
    assert.deepEqual(Object.keys(texts[l]).sort(), Object.keys(texts.en).sort())
    for (const [key, text] of Object.entries(texts[l])) {
      assert.notEqual(text.trim(), '', key)
      assert.deepEqual(places(text), places(texts.en[key] ?? ''), key)
    }
  })
}

test('texts: no two files give the same key', () => {
  const folder = new URL('../../src/', import.meta.url)
  const seen = new Map<string, string>()
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((f) => /(^|\/)text\/en\.json$/.test(f))) {
    for (const key of Object.keys(JSON.parse(readFileSync(new URL(file, folder), 'utf8')))) {
      assert.equal(seen.get(key), undefined, `${key} stands in ${seen.get(key)} and in ${file}`)
      seen.set(key, file)
    }
  }
})

test('texts: every key that the page asks for is there', () => {
  const folder = new URL('../../src/', import.meta.url)
  for (const file of readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((f) => /\.tsx?$/.test(f))) {
    for (const [, key] of readFileSync(new URL(file, folder), 'utf8').matchAll(/\bt\('([\w.-]+)'/g)) {
      assert.ok(key && key in texts.en, `${file} asks for ${key}`)
    }
  }
})
