// Checks of one wall with how each figure was found: every figure opens the figures
// from which it comes, down to inputs with their sources, and says how far it can be
// relied on.

import { number, t, word, locale } from '../../show.ts'
import type { Check, Derivation } from './proof.ts'
import { Verdict } from './verdict.tsx'

export function Checks({ of }: { of: readonly Check[] }) {
  return (
    <ul class="checks">
      {of.map((c) => (
        <CheckItem key={c.name} check={c} />
      ))}
    </ul>
  )
}

function CheckItem({ check: c }: { check: Check }) {
  return (
    <li class="proof-check">
      <div class="check-head">
        <Verdict of={c.verdict} />
        <b lang="en">{c.name}</b>
      </div>
      {c.asked && (
        <div>
          {t('proof.demanded')}: <span lang="en">{c.asked}</span>
        </div>
      )}
      {c.use !== undefined && c.use > 0 && <Use of={c.use} open={c.verdict === 'not proven'} />}
      {c.missing?.map((m) => (
        <div class="missing">
          {t('proof.missing')}: <span lang="en">{m}</span>
        </div>
      ))}
      {c.advice && (
        <div class="advice">
          {t('proof.advice')}: <span lang="en">{c.advice}</span>
        </div>
      )}
      {c.got && <Figure of={c.got} open={false} />}
    </li>
  )
}

// How much of the resistance is used, as a bar with its number.
function Use({ of, open }: { of: number; open: boolean }) {
  return (
    <div class={`use ${open ? 'open' : of > 1 ? 'over' : ''}`}>
      <svg viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
        <rect class="use-whole" width="100" height="6" />
        <rect class="use-part" width={Math.min(of, 1.5) / 1.5 * 100} height="6" />
        <path class="use-limit" d="M66.7 0V6" />
      </svg>
      <span>{t('proof.used', { percent: number(of * 100) })}</span>
    </div>
  )
}

function Figure({ of: d, open }: { of: Derivation; open: boolean }) {
  const line = (
    <>
      <span lang="en">{d.name}</span>
      {d.symbol && <i> {d.symbol}</i>} = <b>{figure(d)}</b>
      {d.range && <span class="quiet"> ({t('proof.range', { low: digits(d.range.low), high: digits(d.range.high) })})</span>}
    </>
  )
  return (
    <details class="figure" open={open}>
      <summary>{line}</summary>
      <dl>
        {d.method && <Pair name={t('proof.method')}><span lang="en">{d.method}</span></Pair>}
        <Pair name={t('proof.source')}>{d.source ? <span lang="en">{d.source}</span> : t('proof.nosource')}</Pair>
        {d.status && <Pair name={t('proof.status')}>{word('status', d.status)}</Pair>}
        {d.note && <Pair name={t('proof.note')}><span lang="en">{d.note}</span></Pair>}
      </dl>
      {d.from?.map((f) => <Figure of={f} open={false} />)}
    </details>
  )
}

function Pair({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div class="fact-pair">
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

function figure(d: Derivation): string {
  if (d.text) return d.text
  return d.unit ? `${digits(d.value)} ${d.unit}` : digits(d.value)
}

// Three digits that count, as the proofs print them; whole numbers as they are.
function digits(x: number): string {
  const whole = Number.isInteger(x) && Math.abs(x) < 1e6
  return new Intl.NumberFormat(locale(), whole ? {} : { maximumSignificantDigits: 3 }).format(x)
}
