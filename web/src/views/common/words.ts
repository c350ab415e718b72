// Names of products, take-off lines and the like come from the server in English.
// Here their usual phrases are put into the language of the page; what has none stays.

import { language } from '../../preferences.ts'
import german from './text/products.de.json' with { type: 'json' }

const phrases = Object.entries(german as Record<string, string>).sort((a, b) => b[0].length - a[0].length)

export function productName(name: string): string {
  if (language.value === 'en') return name
  let text = name
  for (const [english, other] of phrases) text = text.replaceAll(english, other)
  return text
}
