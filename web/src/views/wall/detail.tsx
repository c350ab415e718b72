// What one part is, how it is cut, and why it is there.

import { lengthUnit, number, t, word } from '../../show.ts'
import { mass } from '../common/measures.ts'
import { productName } from '../common/words.ts'
import type { Part, Rule } from './types.ts'

export function Detail({ part: p }: { part: Part | null }) {
  if (!p) return <p class="quiet detail-none">{t('wall.part.none')}</p>
  const size = p.width !== undefined && p.height !== undefined ? `${lengthUnit(p.width)} × ${lengthUnit(p.height)}` : null
  return (
    <section class="detail" aria-label={t('wall.part')} aria-live="polite">
      <h3>
        <span class="mark">{p.id}</span> {word('part', p.what)}
      </h3>
      <dl>
        {p.name && <Row name={t('wall.part.product')}>{productName(p.name)}</Row>}
        {p.cut !== undefined && <Row name={t('wall.part.cut')}><b>{lengthUnit(p.cut)}</b></Row>}
        {size && <Row name={t('wall.part.size')}><b>{size}</b></Row>}
        {p.mass !== undefined && <Row name={t('wall.part.mass')}>{mass(p.mass)}</Row>}
        <Row name={t('wall.part.layer')}>{layerWords(p.layer)}</Row>
        {p.why && <Row name={t('wall.part.why')}>{why(p.why)}</Row>}
      </dl>
      {p.rule ? <RuleBehind of={p.rule} /> : <p class="quiet no-rule">{t('wall.rule.none')}</p>}
    </section>
  )
}

function Row({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div class="fact-pair">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

// The value of the practice behind a part, with where it comes from.
function RuleBehind({ of: r }: { of: Rule }) {
  return (
    <div class="rule">
      <div>
        {t('wall.rule')} <code>{r.name}</code>
      </div>
      <div class="rule-value" lang="en" tabIndex={0}>{r.value}{r.unit ? ` ${r.unit}` : ''}</div>
      <dl>
        <Row name={t('proof.source')}>{r.source ? <span lang="en">{r.source}</span> : t('proof.nosource')}</Row>
        <Row name={t('proof.status')}>{word('status', r.status)}</Row>
        {r.note && <Row name={t('proof.note')}><span lang="en">{r.note}</span></Row>}
      </dl>
    </div>
  )
}

export function layerWords(layer: string): string {
  const m = /^([ab])(\d+)$/.exec(layer)
  if (m) return t('wall.layer.face', { face: (m[1] ?? '').toUpperCase(), n: number(Number(m[2])) })
  return word('wall.layer', layer)
}

// The layout's reason: a name of a rule, or a few words, with figures after a colon.
function why(text: string) {
  const [head = '', rest] = text.split(/: (.*)/s)
  const known = word('why', head)
  if (rest === undefined) return known === head ? <span lang="en">{head.replaceAll('_', ' ')}</span> : known
  return (
    <>
      {known === head ? head.replaceAll('_', ' ') : known}: <span lang="en">{rest}</span>
    </>
  )
}
