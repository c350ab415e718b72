// All texts of the page by language. A view brings files of its own; a test
// holds the keys of the languages against each other.

import type { Language } from '../preferences.ts'
import de from './de.json' with { type: 'json' }
import en from './en.json' with { type: 'json' }
import planDe from '../views/plan/text/de.json' with { type: 'json' }
import planEn from '../views/plan/text/en.json' with { type: 'json' }

export const texts: Record<Language, Record<string, string>> = {
  en: { ...en, ...planEn },
  de: { ...de, ...planDe },
}
