// The side panel of the scan, photo or page beneath the level.

import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import { camera, drawing } from '../../editor/session.ts'
import type { Pages } from '../../editor/pdf.ts'
import { measure, middleOf, place, putPicture, removePicture, setLevel, setScale, turnAbout, underlay } from '../../editor/underlay.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { notice } from '../../state.ts'
import { failed } from '../../sync.ts'
import { number, readLength, t } from '../../show.ts'
import { LengthField, NumberField } from './fields.tsx'

const busy = signal('')
const pdf = signal<Pages | null>(null)

export async function takePicture(file: File): Promise<void> {
  busy.value = t('underlay.reading', { file: file.name })
  try {
    if (file.type === 'application/pdf' || /\.pdf$/i.test(file.name)) {
      const { pages } = await import('../../editor/pdf.ts')
      const read = await pages(file)
      if (read.count === 1) await putPicture(await read.picture(1), camera.value.at)
      else pdf.value = read
    } else if (/^image\/(png|jpeg)$/.test(file.type)) await putPicture(file, camera.value.at)
    else notice.value = { text: t('underlay.wrongfile', { file: file.name }), kind: 'error' }
  } catch (e) {
    failed(e)
  } finally {
    busy.value = ''
  }
}

export function UnderlayPanel() {
  const u = underlay.value
  return (
    <>
      <header class="side-head">
        <h2>{t('underlay.title')}</h2>
      </header>
      <label class="entry file">
        <span>{u ? t('underlay.other') : t('underlay.file')}</span>
        <input
          type="file"
          accept="image/png,image/jpeg,application/pdf"
          onChange={(e) => {
            const f = (e.currentTarget as HTMLInputElement).files?.[0]
            if (f) void takePicture(f)
          }}
        />
      </label>
      {busy.value && <p role="status">{busy.value}</p>}
      {!u && <p class="quiet">{t('underlay.what')}</p>}
      {u && <Scale />}
      {u && <Placing />}
      {pdf.value && <PageDialog of={pdf.value} />}
    </>
  )
}

function Scale() {
  const n = measure.value.length
  const [text, setText] = useState('')
  const mm = readLength(text)
  return (
    <fieldset>
      <legend>{t('underlay.scale')}</legend>
      <p role="status">{t(`underlay.scale.${n}`)}</p>
      {n === 2 && (
        <form onSubmit={(e) => (e.preventDefault(), mm && setScale(mm))}>
          <label class="entry">
            <span>{t('underlay.length')}</span>
            <input value={text} onInput={(e) => setText((e.currentTarget as HTMLInputElement).value)} autofocus />
          </label>
          <div class="buttons">
            <button class="main" disabled={!mm}>{t('underlay.setscale')}</button>
            <button type="button" onClick={setLevel}>{t('underlay.setlevel')}</button>
          </div>
        </form>
      )}
    </fieldset>
  )
}

function Placing() {
  const u = underlay.value
  if (!u) return null
  const turn = ((u.at.turn % 360) + 360) % 360
  return (
    <fieldset class="entries">
      <legend>{t('underlay.place')}</legend>
      <LengthField label={t('underlay.x')} value={u.at.x} onChange={(x) => x !== undefined && place({ x })} />
      <LengthField label={t('underlay.y')} value={u.at.y} onChange={(y) => y !== undefined && place({ y })} />
      <NumberField label={t('underlay.turn')} value={Math.round(turn * 100) / 100} unit="°" onChange={(v) => v !== undefined && turnAbout(middleOf(u), v - u.at.turn)} />
      <label class="entry">
        <span>{t('underlay.fade', { n: Math.round(u.at.fade * 100) })}</span>
        <input type="range" min="0" max="1" step="0.05" value={u.at.fade} onInput={(e) => place({ fade: Number((e.currentTarget as HTMLInputElement).value) })} />
      </label>
      <p class="quiet">{t('underlay.resolution', { n: number(u.at.mmPerPixel, 2) })}</p>
      <div class="buttons">
        <button onClick={() => turnAbout(middleOf(u), 90)}>{t('underlay.turn90')}</button>
        <button onClick={() => place({ x: u.at.x + drawing.value.pen[0] - middleOf(u)[0], y: u.at.y + drawing.value.pen[1] - middleOf(u)[1] })}>{t('underlay.here')}</button>
        <button class="danger" onClick={() => void removePicture().catch(failed)}>{t('underlay.remove')}</button>
      </div>
    </fieldset>
  )
}

function PageDialog({ of: p }: { of: Pages }) {
  const [n, setN] = useState(1)
  const shut = () => (pdf.value = null)
  const take = async () => {
    shut()
    busy.value = t('underlay.drawing', { n })
    try {
      await putPicture(await p.picture(n), camera.value.at)
    } catch (e) {
      failed(e)
    } finally {
      busy.value = ''
    }
  }
  return (
    <Dialog title={t('underlay.pages', { n: p.count })} onClose={shut}>
      <label class="entry">
        <span>{t('underlay.page')}</span>
        <input type="number" min="1" max={p.count} value={n} onInput={(e) => setN(Number((e.currentTarget as HTMLInputElement).value))} autofocus />
      </label>
      <div class="buttons">
        <button class="main" disabled={!(n >= 1 && n <= p.count)} onClick={() => void take()}>{t('underlay.take')}</button>
        <button onClick={shut}>{t('shell.cancel')}</button>
      </div>
    </Dialog>
  )
}
