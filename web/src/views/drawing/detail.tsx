// What is picked: why it was recognised, and fields to mend it.

import { asKind, mend, stand } from './items.ts'
import type { Item } from './items.ts'
import { LengthField, SelectField, TextField } from '../plan/fields.tsx'
import { t } from '../../show.ts'
import { decide } from './hand.ts'
import { act, byKey, items, pickedItem } from './session.ts'
import { kindOf, measures, percent, signsOf, sureness } from './words.ts'

export function Detail() {
  const i = pickedItem.value
  if (!i) return <p class="quiet read-hint">{t('drawing.pickone')}</p>
  const change = (c: Partial<Item>) => act(mend(items.value, i.key, c))
  const host = byKey.value.get(i.host ?? '')
  return (
    <section class="read-detail" aria-labelledby="read-detail" key={i.key}>
      <h2 id="read-detail">
        {kindOf(i)} {i.name}
      </h2>
      <p role="status">
        {measures(i)} · {i.signs.includes('hand') ? t('drawing.byhand') : `${percent(i.confidence)} ${sureness(i.confidence)}`} · {t(`drawing.standing.${i.standing}`)}
      </p>
      {signsOf(i) !== '' && <p class="quiet">{t('drawing.because', { signs: signsOf(i) })}</p>}
      <div class="entries">
        {i.line && (
          <>
            <LengthField label={t('drawing.thickness')} value={i.thickness} onChange={(thickness) => thickness && change({ thickness })} />
            {i.line.length === 2 && <SelectField label={t('drawing.kind')} value={i.kind} options={[['wall', t('drawing.kind.wall')], ['structure', t('drawing.kind.structure')]]} onChange={(k) => change({ kind: k as Item['kind'] })} />}
          </>
        )}
        {i.opening && (
          <>
            <SelectField label={t('drawing.kind')} value={i.opening.kind} options={['door', 'window', 'bare', 'hatch'].map((k) => [k, t(`drawing.kind.${k}`)])} onChange={(k) => k && i.opening && change({ opening: asKind(i.opening, k) })} />
            <LengthField label={t('drawing.width')} value={i.opening.width} onChange={(width) => width && i.opening && change({ opening: { ...i.opening, width } })} />
            <LengthField label={t('drawing.height')} value={i.opening.height} onChange={(height) => height && i.opening && change({ opening: { ...i.opening, height } })} />
          </>
        )}
        {i.kind === 'room' && <TextField label={t('drawing.roomname')} value={i.words ?? ''} onChange={(words) => change({ words: words ?? '' })} />}
      </div>
      <div class="buttons">
        <button class={i.standing === 'taken' ? '' : 'main'} aria-pressed={i.standing === 'taken'} aria-keyshortcuts="A" onClick={() => decide('taken')}>
          {t('drawing.accept')}
        </button>
        <button aria-pressed={i.standing === 'refused'} aria-keyshortcuts="X" onClick={() => decide('refused')}>
          {t('drawing.refuse')}
        </button>
        {host && <button onClick={() => act(stand(items.value, new Set([host.key]), 'refused'))}>{t('drawing.refuse.wall', { name: host.name })}</button>}
      </div>
    </section>
  )
}
