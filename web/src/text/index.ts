// All texts of the page by language. A view brings files of its own; a test
// holds the keys of the languages against each other.

import type { Language } from '../preferences.ts'
import de from './de.json' with { type: 'json' }
import en from './en.json' with { type: 'json' }
import planDe from '../views/plan/text/de.json' with { type: 'json' }
import planEn from '../views/plan/text/en.json' with { type: 'json' }
import commonDe from '../views/common/text/de.json' with { type: 'json' }
import commonEn from '../views/common/text/en.json' with { type: 'json' }
import wallDe from '../views/wall/text/de.json' with { type: 'json' }
import wallEn from '../views/wall/text/en.json' with { type: 'json' }
import drawingDe from '../views/drawing/text/de.json' with { type: 'json' }
import drawingEn from '../views/drawing/text/en.json' with { type: 'json' }
import intakeDe from '../views/intake/text/de.json' with { type: 'json' }
import intakeEn from '../views/intake/text/en.json' with { type: 'json' }
import choiceDe from '../views/choice/text/de.json' with { type: 'json' }
import choiceEn from '../views/choice/text/en.json' with { type: 'json' }
import solidDe from '../views/solid/text/de.json' with { type: 'json' }
import solidEn from '../views/solid/text/en.json' with { type: 'json' }
import proofDe from '../views/proof/text/de.json' with { type: 'json' }
import proofEn from '../views/proof/text/en.json' with { type: 'json' }
import materialDe from '../views/material/text/de.json' with { type: 'json' }
import materialEn from '../views/material/text/en.json' with { type: 'json' }
import changesDe from '../views/changes/text/de.json' with { type: 'json' }
import changesEn from '../views/changes/text/en.json' with { type: 'json' }
import printDe from '../views/print/text/de.json' with { type: 'json' }
import printEn from '../views/print/text/en.json' with { type: 'json' }
import programmeDe from '../views/programme/text/de.json' with { type: 'json' }
import programmeEn from '../views/programme/text/en.json' with { type: 'json' }

export const texts: Record<Language, Record<string, string>> = {
  en: { ...en, ...planEn, ...commonEn, ...drawingEn, ...intakeEn, ...wallEn, ...choiceEn, ...solidEn, ...proofEn, ...materialEn, ...changesEn, ...printEn, ...programmeEn },
  de: { ...de, ...planDe, ...commonDe, ...drawingDe, ...intakeDe, ...wallDe, ...choiceDe, ...solidDe, ...proofDe, ...materialDe, ...changesDe, ...printDe, ...programmeDe },
}
