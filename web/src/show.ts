// Shows texts, lengths and numbers in the language and units chosen. Components
// that call these redraw when the choice changes.

import { language, units } from './preferences.ts'
import { parseLength, showLength } from './core/units.ts'
import { texts } from './text/index.ts'

export type Values = Record<string, string | number>

export const locale = () => (language.value === 'de' ? 'de-DE' : 'en-GB')

// The text of a key, with {name} replaced by its value. Where a text has forms
// for one and for several, its key with '.one' serves n = 1.
export function t(key: string, values: Values = {}): string {
  const all = texts[language.value]
  const text = (values.n === 1 ? all[`${key}.one`] : undefined) ?? all[key] ?? key
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const v = values[name]
    return v === undefined ? whole : typeof v === 'number' ? number(v) : v
  })
}

// The text of a key, or the word itself where there is none: for words that
// come from the plan, such as a use of a room that the person made up.
export function word(prefix: string, value: string): string {
  return texts[language.value][`${prefix}.${value}`] ?? value
}

export function number(x: number, digits = 0): string {
  return new Intl.NumberFormat(locale(), { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(x)
}

export const length = (mm: number) => showLength(mm, units.value, locale())

// As length, with the unit where it does not show by itself.
export const lengthUnit = (mm: number) => (units.value === 'metric' ? `${length(mm)} mm` : length(mm))

export const readLength = (text: string) => parseLength(text, units.value)

export function area(mm2: number): string {
  return units.value === 'metric' ? `${number(mm2 / 1e6, 1)} m²` : `${number(mm2 / 92903.04)} sq ft`
}

export function date(rfc3339: string): string {
  return new Intl.DateTimeFormat(locale(), { dateStyle: 'medium', timeStyle: 'short' }).format(new Date(rfc3339))
}
