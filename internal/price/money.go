package price

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// Number is a number in decimal notation: a price, a rate, a percentage. It is
// never a binary fraction.
type Number struct{ decimal.Decimal }

// UnmarshalText reads a number with a decimal point.
func (n *Number) UnmarshalText(text []byte) error {
	d, err := parse(string(text))
	if err != nil {
		return fmt.Errorf("%w; write a number such as 12.50", err)
	}
	n.Decimal = d
	return nil
}

// digitsMost bounds how long numbers may be, so that sums stay reckonable.
const digitsMost = 30

func parse(s string) (decimal.Decimal, error) {
	if s = strings.TrimSpace(s); len(s) > digitsMost || strings.ContainsAny(s, "eE") {
		return decimal.Zero, fmt.Errorf("%.40q is no number", s)
	}
	d, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Zero, fmt.Errorf("%.40q is no number", s)
	}
	return d, nil
}

// Rounding names how money is rounded.
const Rounding = "each amount to the currency's smallest unit, halves away from zero; totals are sums of rounded amounts"

// minor lists the currencies of ISO 4217 whose smallest unit is not a hundredth
// (from memory).
var minor = map[string]int32{
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0, "RWF": 0, "UGX": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
}

// Currency is a currency by its code of ISO 4217.
type Currency string

// Digits returns how many decimals the currency has.
func (c Currency) Digits() int32 {
	if n, ok := minor[strings.ToUpper(string(c))]; ok {
		return n
	}
	return 2
}

// Round rounds an amount by the rounding rule.
func (c Currency) Round(d decimal.Decimal) decimal.Decimal { return d.Round(c.Digits()) }

// Format writes an amount with all decimals of the currency and its code.
func (c Currency) Format(d decimal.Decimal) string { return c.Amount(d) + " " + string(c) }

// Amount writes an amount with all decimals of the currency, thousands apart.
func (c Currency) Amount(d decimal.Decimal) string {
	s := d.StringFixed(c.Digits())
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	whole, rest, _ := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if rest != "" {
		whole += "." + rest
	}
	return sign + whole
}

// quantities are rounded to so many decimals before they are priced.
const quantityDigits = 4

// amountOf returns a measured quantity as a decimal.
func amountOf(v float64) decimal.Decimal { return decimal.NewFromFloat(v).Round(quantityDigits) }

// Allocate parts an amount by weights, so that the parts sum to it exactly: each
// gets its share rounded down to the currency's smallest unit, and what is left goes
// unit by unit to those that lost most by that, the first of equals first. An amount
// without any weight goes to the first part.
func (c Currency) Allocate(total decimal.Decimal, weights []decimal.Decimal) []decimal.Decimal {
	parts := make([]decimal.Decimal, len(weights))
	if len(weights) == 0 {
		return parts
	}
	sum := decimal.Zero
	for _, w := range weights {
		sum = sum.Add(w)
	}
	if !sum.IsPositive() {
		parts[0] = total
		return parts
	}
	lost := make([]decimal.Decimal, len(weights))
	order := make([]int, len(weights))
	left := total
	for i, w := range weights {
		exact := total.Mul(w).DivRound(sum, 16)
		parts[i] = exact.RoundFloor(c.Digits())
		lost[i] = exact.Sub(parts[i])
		left = left.Sub(parts[i])
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return lost[b].Cmp(lost[a]) })
	unit := decimal.New(1, -c.Digits())
	for i := 0; left.IsPositive(); i = (i + 1) % len(order) {
		parts[order[i]] = parts[order[i]].Add(unit)
		left = left.Sub(unit)
	}
	return parts
}

// percent returns so many per cent of an amount, rounded.
func (c Currency) percent(of, p decimal.Decimal) decimal.Decimal {
	return c.Round(of.Mul(p).Shift(-2))
}
