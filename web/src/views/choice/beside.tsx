// Two build-ups side by side: measures with their difference, and each need.

import { number, t, word } from '../../show.ts'
import { measureHead, measureOf } from './panel.tsx'
import { StandingMark } from './standing.tsx'
import { measures } from './types.ts'
import type { Candidate } from './types.ts'

export function Beside({ a, b, priced }: { a: Candidate; b: Candidate; priced: boolean }) {
  const needs = [...new Set([...a.needs, ...b.needs].map((n) => n.about))]
  return (
    <div class="table-frame" role="region" aria-label={t('choice.two')} tabIndex={0}>
      <table class="sheet">
        <caption>{t('choice.two')}</caption>
        <thead>
          <tr>
            <th scope="col"><span class="hidden-text">{t('choice.what')}</span></th>
            <th scope="col" lang="en">{a.words}</th>
            <th scope="col" lang="en">{b.words}</th>
            <th scope="col" class="number">{t('choice.difference')}</th>
          </tr>
        </thead>
        <tbody>
          {measures.filter((m) => m !== 'cost' || priced).map((m) => (
            <tr>
              <th scope="row">{measureHead(m)}</th>
              <td class="number">{measureOf(a, m)}</td>
              <td class="number">{measureOf(b, m)}</td>
              <td class="number">{percent(a.measures[m], b.measures[m])}</td>
            </tr>
          ))}
          {needs.map((about) => (
            <tr>
              <th scope="row">{word('need', about)}</th>
              {[a, b].map((c) => {
                const n = c.needs.find((x) => x.about === about)
                return <td>{n ? <><StandingMark of={n.standing} /> <span lang="en">{n.got}</span></> : '–'}</td>
              })}
              <td />
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function percent(a: number | undefined, b: number | undefined): string {
  if (a === undefined || b === undefined || a === 0) return '–'
  const d = (b / a - 1) * 100
  return `${d > 0 ? '+' : d < 0 ? '−' : ''}${number(Math.abs(d), 0)} %`
}
