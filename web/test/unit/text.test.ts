import assert from 'node:assert/strict'
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
