// Quantities, orders and cutting plans as the server gives them.

export interface TakeoffLine {
  group: string
  code: string
  name: string
  unit: string
  quantity: number
  pieces?: number
  mass?: number
}

export interface Takeoff {
  walls: { wall: string; level: string; lines: TakeoffLine[] }[] | null
  levels: { level: string; lines: TakeoffLine[] | null }[]
  total: TakeoffLine[] | null
}

export interface Size {
  length?: number
  width?: number
}

export interface OrderLine {
  group: string
  product: string
  name: string
  size?: Size
  unit: string
  net: number
  gross: number
  waste: string
  pack: string
  amount: number
  amount_in: string
  packs: number
  bought: number
  surplus: number
  pallets?: number
  mass?: number
  volume?: number
}

export interface Zone {
  zone: string
  level: string
  lines: OrderLine[] | null
  mass: number
  volume: number
  pallets: number
  stacks?: { product: string; name: string; size: Size; boards: number; mass: number; persons: number; load: number; per_stack?: number; stacks?: number }[]
}

export interface Order {
  lines: OrderLine[] | null
  call_offs: Zone[] | null
  mass: number
  volume: number
  pallets: number
  carbon: { a1_a3: number; a5_waste: number }
  waste_streams: { name: string; mass: number; note?: string }[] | null
}

export interface Bar {
  source: string
  length: number
  pieces: { wall: string; mark: string; role: string; length: number }[]
  rest: number
  kept?: boolean
}

export interface ProfilePlan {
  product: string
  name: string
  bars: Bar[]
  needed: number
  bought: number
  waste: number
  cost: number
  bound: number
}

export interface Area {
  name: string // a, b … for pieces; offcut; waste
  notch?: boolean
  x: number
  y: number
  w: number
  h: number
}

export interface Cut {
  of: string
  along?: boolean
  at: number
  off: string
  rest?: string
  line: [number, number, number, number]
}

export interface Way {
  number: number
  width: number
  length: number
  offcut?: boolean
  areas: Area[]
  cuts: Cut[]
  sheets: { number: number; from?: number; pieces: string[] }[]
}

export interface BoardPlan {
  product: string
  name: string
  bought: number
  plain: number
  area: number
  net: number
  bound: number
  stocks: { width: number; length: number; count: number }[]
  ways: Way[]
  unmade?: string[]
}

export interface Cutting {
  zones: { zone: string; profiles: ProfilePlan[]; boards: BoardPlan[] }[]
}
