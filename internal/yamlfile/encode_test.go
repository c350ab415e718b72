package yamlfile

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"nogging/internal/quantity"
)

const written = `# first remark
# second remark

format: 1
name: "Long: boards"
open: true
origin: [0, 2750]
size: [3, 4]
tags: [a, "12", "no"]

notes:
  screws: [[250], [750, 250]]
  stud_spacing: 625
  word: "yes"

Loads:
  x: 1.5
  "y": 2

rule:
  value: 12.7
  source: from memory

boards:
  - id: B1
    length: 2750
    mass: 9.5
    kind: plain
    line: [[0, 0], [4000, 304.8]]
    stock: [2000, 2500]
    holes:
      - {at: 100}
      - {at: 200, width: 50}

  - id: B2
    length: 3000

  - id: "3"
    length: 12.5
`

func TestEncode(t *testing.T) {
	s := sampleShelf()
	got, err := Encode(&s, "first remark", "second remark")
	if err != nil {
		t.Fatal(err)
	}
	same(t, "written", written, string(got))
}

func TestEncodeEmpty(t *testing.T) {
	got, err := Encode(shelf{})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "written", "format: 0\nLoads: {}\nboards: []\n", string(got))
}

func TestEncodeRefuses(t *testing.T) {
	for name, notes := range map[string]any{"not a number": math.NaN(), "infinity": math.Inf(1), "a channel": make(chan int)} {
		if _, err := Encode(shelf{Notes: map[string]any{"x": notes}}); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}

func TestEncodeFoldsLongLines(t *testing.T) {
	s := shelf{Boards: []board{{ID: "a"}}}
	for i := range 20 {
		s.Boards[0].Line = append(s.Boards[0].Line, spot{mm(float64(i) * 1000), 0})
	}
	s.Tags = slices.Repeat([]string{"a long word"}, 20)
	got, err := Encode(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(got), "\n") {
		if len(line) > width {
			t.Errorf("%d columns: %s", len(line), line)
		}
	}
	var back shelf
	if _, found := Decode("x", got, &back); len(found) > 0 {
		t.Fatalf("%s\nfound %v", got, found)
	}
	same(t, "read back", s.Boards, back.Boards)
}

// letters are the characters of texts in tests: all planes, all signs.
var letters = []*unicode.RangeTable{unicode.L, unicode.N, unicode.P, unicode.S, unicode.Z, unicode.Cc}

func genShelf(t *rapid.T) shelf {
	text := rapid.OneOf(rapid.StringOf(rapid.RuneFrom(nil, letters...)), rapid.SampledFrom([]string{"no", "12", "~", "a: b", "a #b", " x ", "- a", "1e3", "null", "é", "0x1F", "'", "\"", "\n", "a\tb"}))
	length := rapid.Custom(func(t *rapid.T) quantity.Length {
		return quantity.Length(rapid.Int64Range(-int64(quantity.MaxParsed), int64(quantity.MaxParsed)).Draw(t, "length"))
	})
	point := rapid.Custom(func(t *rapid.T) spot { return spot{length.Draw(t, "x"), length.Draw(t, "y")} })
	value := rapid.OneOf(rapid.Float64().AsAny(), text.AsAny(), rapid.Bool().AsAny(), rapid.Custom(func(t *rapid.T) any { return []any{text.Draw(t, "a"), 2.5} }))
	s := shelf{
		Format: rapid.Int().Draw(t, "format"),
		Name:   text.Draw(t, "name"),
		Open:   rapid.Bool().Draw(t, "open"),
		Origin: rapid.Ptr(point, true).Draw(t, "origin"),
		Tags:   rapid.SliceOfN(text, 0, 30).Draw(t, "tags"),
		Notes:  rapid.MapOfN(text, value, 0, 4).Draw(t, "notes"),
		Rule:   rule[quantity.Length]{Value: length.Draw(t, "rule"), Source: text.Draw(t, "source")},
	}
	s.Boards = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) board {
		return board{
			ID: text.Draw(t, "id"), Length: length.Draw(t, "length"), Mass: rapid.Float64().Draw(t, "mass"), Kind: kind(text.Draw(t, "kind")),
			Line:  rapid.SliceOfN(point, 0, 9).Draw(t, "line"),
			Holes: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) hole { return hole{At: length.Draw(t, "at")} }), 0, 3).Draw(t, "holes"),
		}
	}), 1, 5).Draw(t, "boards")
	return s
}

// What is written is read back to the same, and written again to the same
// bytes.
func TestEncodeDecodeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genShelf(t)
		data, err := Encode(s)
		if err != nil {
			t.Fatal(err)
		}
		var back shelf
		if _, found := Decode("x.yaml", data, &back); len(found) > 0 {
			t.Fatalf("%s\nfound %v", data, found)
		}
		again, err := Encode(back)
		if err != nil {
			t.Fatal(err)
		}
		same(t, "written again", string(data), string(again))
		for i := range s.Boards {
			if len(s.Boards[i].Line) == 0 {
				s.Boards[i].Line = nil
			}
			if len(s.Boards[i].Holes) == 0 {
				s.Boards[i].Holes = nil
			}
		}
		same(t, "boards", s.Boards, back.Boards)
		same(t, "name", s.Name, back.Name)
	})
}

// A file is read the same block by block and in one piece.
func TestBlocksAndWholeAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, err := Encode(genShelf(t))
		if err != nil {
			t.Fatal(err)
		}
		indented := " " + strings.ReplaceAll(strings.TrimSuffix(string(data), "\n"), "\n", "\n ") // no keys in the first column
		var blocks, whole shelf
		_, found1 := Decode("x", data, &blocks)
		_, found2 := Decode("x", []byte(indented), &whole)
		if len(found1)+len(found2) > 0 {
			t.Fatalf("%s\nfound %v\n%v", data, found1, found2)
		}
		same(t, "read in one piece", blocks, whole)
	})
}
