// Lengths as people read and type them. Metric shows millimetres; imperial shows
// feet, inches and sixteenths. Either way every form is read: 2750, 2.75 m,
// 275 cm, 9'-2", 5/8 in.

export type System = 'metric' | 'imperial'

const inch = 25.4
const foot = 12 * inch

export function showLength(mm: number, system: System, locale: string): string {
  return system === 'metric' ? metric(mm, locale) : feetInches(mm)
}

function metric(mm: number, locale: string): string {
  // -0 would be shown with its sign.
  return new Intl.NumberFormat(locale, { maximumFractionDigits: 1, useGrouping: 'min2' }).format(Math.round(mm * 10) / 10 + 0)
}

export function feetInches(mm: number): string {
  const sixteenths = Math.round((Math.abs(mm) / inch) * 16)
  const feet = Math.floor(sixteenths / 192)
  const inches = Math.floor((sixteenths % 192) / 16)
  const sign = mm < 0 && sixteenths > 0 ? '-' : ''
  const part = fraction(sixteenths % 16)
  const whole = inches > 0 || part === '' ? String(inches) : ''
  const rest = [whole, part].filter((p) => p !== '').join(' ')
  return feet > 0 ? `${sign}${feet}'-${rest}"` : `${sign}${rest}"`
}

function fraction(sixteenths: number): string {
  if (sixteenths === 0) return ''
  let over = sixteenths
  let under = 16
  while (over % 2 === 0) {
    over /= 2
    under /= 2
  }
  return `${over}/${under}`
}

// Reads a typed length into millimetres, or gives null. A bare number is
// millimetres in metric and feet in imperial only where it is followed by a mark;
// otherwise inches, as a tape is read.
export function parseLength(text: string, system: System): number | null {
  const t = text.trim().toLowerCase().replace(/[′’]/g, "'").replace(/[″”“]|''/g, '"').replace(/[−–]/g, '-')
  if (t === '') return null
  const sign = t.startsWith('-') ? -1 : 1
  const mm = unsigned(t.replace(/^[-+]/, '').trim(), system)
  return mm === null ? null : sign * mm
}

function unsigned(t: string, system: System): number | null {
  const unit = /^([\d.,/ ]+)(mm|cm|m|in|ft)$/.exec(t)
  if (unit) return scaled(unit[1] ?? '', { mm: 1, cm: 10, m: 1000, in: inch, ft: foot }[unit[2] as 'mm'])
  const imperial = /^(?:([\d.,/ ]+)')?(?:\s*-?\s*([\d.,/ ]+)"?)?$/.exec(t)
  if (imperial && /['"]/.test(t)) {
    const feet = imperial[1] === undefined ? 0 : scaled(imperial[1], foot)
    const inches = imperial[2] === undefined ? 0 : scaled(imperial[2], inch)
    return feet === null || inches === null ? null : feet + inches
  }
  return scaled(t, system === 'metric' ? 1 : inch)
}

function scaled(text: string, factor: number): number | null {
  const n = amount(text)
  return n === null ? null : n * factor
}

// A number with a decimal point or comma, a fraction, or both: 3, 2.5, 5/8, 3 5/8.
function amount(text: string): number | null {
  const m = /^(?:(\d+(?:[.,]\d+)?|[.,]\d+)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))$/.exec(text.trim())
  if (!m) return null
  const whole = m[1] === undefined ? 0 : Number(m[1].replace(',', '.'))
  const over = m[2] ?? m[4]
  const under = m[3] ?? m[5]
  if (over === undefined) return whole
  return Number(under) === 0 ? null : whole + Number(over) / Number(under)
}

// Reads a typed angle in degrees, as 45, 22.5 or 45°.
export function parseAngle(text: string): number | null {
  const m = /^([-+]?\d+(?:[.,]\d+)?)\s*°?$/.exec(text.trim())
  return m ? Number((m[1] ?? '').replace(',', '.')) : null
}
