// All texts of the page by language. A view brings files of its own; a test
// holds the keys of the languages against each other.

import type { Language } from '../preferences.ts'
import de from './de.json' with { type: 'json' }
import en from './en.json' with { type: 'json' }

export const texts: Record<Language, Record<string, string>> = {
  en: { ...en },
  de: { ...de },
}
