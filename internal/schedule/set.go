package schedule

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"nogging/internal/plan"
	"nogging/internal/quantity"
	"nogging/internal/table"
)

// setter puts a cell on a wall or a door; it says what stood there before.
type setter struct {
	key  string
	wall func(m *merger, w *plan.Wall, text string) (was, is string, err error)
	door func(m *merger, o *plan.Opening, text string) (was, is string, err error)
}

var wallSetters = []setter{
	{key: "buildup", wall: func(m *merger, w *plan.Wall, text string) (string, string, error) {
		if m.plan.BuildUpByID(text) == nil {
			return "", "", fmt.Errorf("the plan has no build-up %q", text)
		}
		return put(&w.BuildUp, text)
	}},
	{key: "zone", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		return put(&w.Zone, text)
	}},
	{key: "thickness", wall: func(m *merger, w *plan.Wall, text string) (string, string, error) {
		return m.length(&w.Thickness, "thickness", text)
	}},
	{key: "height", wall: func(m *merger, w *plan.Wall, text string) (string, string, error) {
		if len(w.Heights) > 0 {
			return "", "", errors.New("the wall has a height profile in the plan, which stays")
		}
		return m.length(&w.Height, "height", text)
	}},
	{key: "fire", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		if _, err := plan.ParseFire(text); err != nil {
			return "", "", err
		}
		return put(&w.Require.Fire, text)
	}},
	{key: "sound", wall: func(m *merger, w *plan.Wall, text string) (string, string, error) {
		return m.sound(&w.Require.Sound, text)
	}},
	{key: "duty", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		if _, ok := plan.ParseDuty(text); !ok {
			return "", "", fmt.Errorf("%q is no duty", text)
		}
		return put(&w.Require.Duty, text)
	}},
	{key: "wet", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		return put(&w.Require.Wet, text)
	}},
	{key: "u_value", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		return put(&w.Require.UValue, text)
	}},
	{key: "note", wall: func(_ *merger, w *plan.Wall, text string) (string, string, error) {
		return put(&w.Note, text)
	}},
}

var doorSetters = []setter{
	{key: "width", door: func(m *merger, o *plan.Opening, text string) (string, string, error) {
		return m.length(&o.Width, "width", text)
	}},
	{key: "height", door: func(m *merger, o *plan.Opening, text string) (string, string, error) {
		return m.length(&o.Height, "height", text)
	}},
	{key: "sill", door: func(m *merger, o *plan.Opening, text string) (string, string, error) {
		return m.length(&o.Sill, "sill", text)
	}},
	{key: "leaf_mass", door: func(_ *merger, o *plan.Opening, text string) (string, string, error) {
		number := strings.TrimSpace(strings.TrimSuffix(strings.ToLower(text), "kg"))
		v, err := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
		if err != nil || !(v > 0) {
			return "", "", fmt.Errorf("%q is no mass in kg", text)
		}
		was := strconv.FormatFloat(o.LeafMass, 'g', -1, 64)
		o.LeafMass = v
		return was, strconv.FormatFloat(v, 'g', -1, 64), nil
	}},
	{key: "sound", door: func(m *merger, o *plan.Opening, text string) (string, string, error) {
		return m.sound(&o.Sound, text)
	}},
}

func put(at *string, text string) (was, is string, err error) {
	was, *at = *at, text
	return was, text, nil
}

func (m *merger) length(at *quantity.Length, key, text string) (was, is string, err error) {
	unit := m.Unit(key)
	if unit == "" {
		unit = m.columns.Unit
	}
	l, err := table.ParseLength(text, unit)
	if err != nil {
		return "", "", err
	}
	if l < 0 {
		return "", "", fmt.Errorf("%s is below zero", text)
	}
	was, *at = at.String(), l
	return was, l.String(), nil
}

// sound takes a rating; a bare number is of the kind that the column's head names.
func (m *merger) sound(at *string, text string) (was, is string, err error) {
	if _, err := strconv.Atoi(text); err == nil {
		switch m.Head("sound") {
		case "rw":
			text = "Rw " + text
		case "r'w":
			text = "R'w " + text
		case "stc":
			text = "STC " + text
		}
	}
	if _, err := quantity.ParseSound(text); err != nil {
		return "", "", err
	}
	return put(at, text)
}
