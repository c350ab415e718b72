package yamlfile

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	_ "nogging/internal/draws"
	"nogging/internal/finding"
	"nogging/internal/quantity"
	"nogging/internal/words"
)

// The types of a small file with everything that real files use.
type (
	shelf struct {
		Format int            `json:"format"`
		Name   string         `json:"name,omitempty"`
		Open   bool           `json:"open,omitempty"`
		Origin *spot          `json:"origin,omitempty"`
		Size   [2]int         `json:"size,omitempty"`
		Tags   []string       `json:"tags,omitempty"`
		Notes  map[string]any `json:"notes,omitempty"`
		Masses map[string]any `json:"masses,omitempty"`
		Loads  map[string]float64
		Rule   rule[quantity.Length] `json:"rule,omitzero"`
		Boards []board               `json:"boards"`
	}
	board struct {
		ID     string            `json:"id"`
		Length quantity.Length   `json:"length"`
		Mass   float64           `json:"mass,omitempty"`
		Kind   kind              `json:"kind,omitempty"`
		Line   []spot            `json:"line,omitempty"`
		Stock  []quantity.Length `json:"stock,omitempty"`
		Holes  []hole            `json:"holes,omitempty"`
		Unread bool              `json:"-"`
	}
	hole struct {
		At    quantity.Length `json:"at"`
		Width quantity.Length `json:"width,omitempty"`
	}
	kind        string
	rule[T any] struct {
		Value  T      `json:"value"`
		Source string `json:"source,omitempty"`
	}
	spot struct{ X, Y quantity.Length }
)

func (s *spot) Tuple() []any  { return []any{&s.X, &s.Y} }
func (b *board) MarkUnread()  { b.Unread = true }
func mm(v float64) lengthUnit { return quantity.MM(v) }

type lengthUnit = quantity.Length

// same compares what two readings gave; empty and absent lists are alike.
func same(t interface{ Fatalf(string, ...any) }, what string, want, got any) {
	if diff := cmp.Diff(want, got); diff != "" {
		t.Fatalf("%s (-want +got):\n%s", what, diff)
	}
}

const sample = `# A shelf.
format: 1
name: "Long: boards"   # with a remark
open: true
origin: [0, 2.75 m]
size: [3, 4]
tags: [a, 12, "no"]
notes:
  stud_spacing: 625
  screws: [[250], [750, 250]]
  word: yes
Loads: {x: 1.5, y: 2}
rule: {value: 1/2 in, source: from memory}
boards:
  - id: B1
    length: 2750
    mass: 9.5
    kind: plain
    line: [[0, 0], [4000, 1'-0"]]
    stock: [2000, 2.5 m]
    holes:
      - {at: 100}
      - at: 200
        width: 5 cm
  - {id: B2, length: 3 m}

  # The last.
  - id: 3
    length: 12.5
`

func sampleShelf() shelf {
	return shelf{
		Format: 1, Name: "Long: boards", Open: true, Origin: &spot{0, mm(2750)}, Size: [2]int{3, 4}, Tags: []string{"a", "12", "no"},
		Notes: map[string]any{"stud_spacing": 625.0, "screws": []any{[]any{250.0}, []any{750.0, 250.0}}, "word": "yes"},
		Loads: map[string]float64{"x": 1.5, "y": 2},
		Rule:  rule[quantity.Length]{Value: quantity.Inch / 2, Source: "from memory"},
		Boards: []board{
			{ID: "B1", Length: mm(2750), Mass: 9.5, Kind: "plain", Line: []spot{{0, 0}, {mm(4000), quantity.Foot}}, Stock: []quantity.Length{mm(2000), mm(2500)},
				Holes: []hole{{At: mm(100)}, {At: mm(200), Width: mm(50)}}},
			{ID: "B2", Length: mm(3000)},
			{ID: "3", Length: mm(12.5)},
		},
	}
}

func TestDecodeForms(t *testing.T) {
	for name, text := range map[string]string{
		"as written":          sample,
		"carriage returns":    strings.ReplaceAll(sample, "\n", "\r\n"),
		"old line ends":       strings.ReplaceAll(sample, "\n", "\r"),
		"byte order mark":     "\ufeff" + sample,
		"document marks":      "%YAML 1.2\n---\n" + sample + "...\n",
		"tab before a remark": strings.Replace(sample, "   # with", "\t# with", 1),
		"no end of line":      strings.TrimSuffix(sample, "\n"),
		"dashes outdented":    strings.NewReplacer("\n  - ", "\n- ", "\n    ", "\n  ").Replace(sample[strings.Index(sample, "boards:"):]) + sample[:strings.Index(sample, "boards:")],
		"indented keys":       "  " + strings.ReplaceAll(sample, "\n", "\n  "),
		"bracket outdented":   strings.Replace(sample, "tags: [a, 12, \"no\"]", "tags: [\na, 12,\n\"no\"\n]", 1),
	} {
		t.Run(name, func(t *testing.T) {
			var got shelf
			_, found := Decode("shelf.yaml", []byte(text), &got)
			if len(found) > 0 {
				t.Fatalf("found %v", found)
			}
			want := sampleShelf()
			same(t, "read", want, got)
		})
	}
}

// A number may have an exponent (YAML 1.2.2, section 10.3.2), as machines write
// them; text that looks like one stays text.
func TestDecodeExponents(t *testing.T) {
	for text, want := range map[string]quantity.Length{
		"4e3": mm(4000), "4E+3": mm(4000), "+4e3": mm(4000), "-1.5e+1": mm(-15), ".5e2": mm(50), "4.28626e-13": 0, "1e-6": quantity.Nanometre,
	} {
		var got shelf
		_, found := Decode("x.yaml", []byte("format: 1\nLoads: {x: "+text+"}\nnotes: {x: "+text+"}\nboards: [{id: "+text+", length: "+text+"}]\n"), &got)
		if len(found) > 0 || got.Boards[0].Length != want || got.Boards[0].ID != text || got.Loads["x"] != got.Notes["x"] {
			t.Errorf("%s: %+v, %v", text, got, found)
		}
	}
	for _, text := range []string{`"4e3"`, "'4e3'", "4e3 mm", "4e", "1e30", "1e999", "0x1E"} {
		var got shelf
		if _, found := Decode("x.yaml", []byte("format: 1\nLoads: {}\nboards: [{id: a, length: "+text+"}]\n"), &got); len(found) != 1 || found[0].Code != "bad-length" {
			t.Errorf("%s: %+v, %v", text, got.Boards, found)
		}
	}
}

// Whatever encoding/json writes and reads is read to the same here: JSON is a
// subset of YAML 1.2 (YAML 1.2.2, chapter 1.2).
func TestDecodeReadsJSON(t *testing.T) {
	text := rapid.StringOf(rapid.RuneFrom(nil, letters...))
	rapid.Check(t, func(t *rapid.T) {
		in := map[string]any{
			"format": rapid.IntRange(0, 9).Draw(t, "format"),
			"name":   text.Draw(t, "name"),
			"tags":   rapid.SliceOfN(text, 0, 3).Draw(t, "tags"),
			"notes":  rapid.MapOfN(rapid.StringMatching(`[a-z_]{1,8}`), rapid.OneOf(rapid.Float64Range(-1e9, 1e9).AsAny(), text.AsAny(), rapid.Bool().AsAny()), 0, 3).Draw(t, "notes"),
			"boards": []any{map[string]any{"id": text.Draw(t, "id"), "length": rapid.OneOf(rapid.Float64Range(-1e9, 1e9), rapid.Float64Range(-1e-5, 1e-5)).Draw(t, "length")}},
		}
		data, err := json.MarshalIndent(in, "", rapid.SampledFrom([]string{"", "  ", "\t"}).Draw(t, "indent"))
		if err != nil {
			t.Fatal(err)
		}
		var want, got shelf
		if err := json.Unmarshal(data, &want); err != nil {
			t.Fatal(err)
		}
		_, found := Decode("x.json", data, &got)
		if len(found) > 0 && found[0].Code != "missing-key" {
			t.Fatalf("%s\nfound %v", data, found)
		}
		if len(want.Tags) == 0 {
			want.Tags = nil
		}
		if len(want.Notes) == 0 {
			want.Notes, got.Notes = nil, nil
		}
		want.Boards[0].Unread, got.Boards[0].Unread = false, false
		same(t, string(data), want, got)
	})
}

// mistake is one bad file: what is put in place of a line of the sample, and
// what has to be found.
type mistake struct {
	name, file string
	place      string // line:column
	code       string
	path       string
	object     string
	what, fix  string
	text       string // the line shown
}

const head = "format: 1\nLoads: {}\nboards:\n  - id: B1\n    length: 100\n"

var mistakes = []mistake{
	{"unknown key", head + "    lenght: 3\n", "6:5", "unknown-key", "boards[0]", "B1", `unknown key "lenght"`, `did you mean "length"?`, "    lenght: 3"},
	{"unknown top-level key", "colour: red\n" + head, "1:1", "unknown-key", "", "", `unknown key "colour"`, "known keys: format, name, open, origin, size, tags, notes, masses, Loads, rule, boards", "colour: red"},
	{"unknown top-level list", "shelves:\n  - a\n" + head, "1:1", "unknown-key", "", "", `unknown key "shelves": its 1 entry is left out`, "known keys: format, name, open, origin, size, tags, notes, masses, Loads, rule, boards", "shelves:"},
	{"duplicate key", head + "    length: 3\n", "6:5", "duplicate-key", "boards[0].length", "B1", `the key "length" stands here a second time`, "keep one of the two", "    length: 3"},
	{"duplicate top-level key", head + "format: 1\n", "6:1", "duplicate-key", "format", "", `the key "format" stands here a second time`, "keep one of the two", "format: 1"},
	{"duplicate top-level list", head + "boards:\n  - id: B2\n    length: 1\n", "6:1", "duplicate-key", "boards", "", `the key "boards" stands here a second time`, "keep one of the two", "boards:"},
	{"missing key", head + "  - id: B2\n", "6:5", "missing-key", "boards[1].length", "B2", "length is missing", "add length: 2750", "  - id: B2"},
	{"key without value", head + "  - id: B2\n    length:\n", "7:5", "missing-key", "boards[1].length", "B2", "length is missing", "add length: 2750", "    length:"},
	{"missing top-level key", "format: 1\nLoads: {}\n", "1:1", "missing-key", "boards", "", "boards is missing", "add boards: [{id: text, length: 2750}]", "format: 1"},
	{"bad length", head + "    stock: [1, two]\n", "6:16", "bad-length", "boards[0].stock[1]", "B1", `"two" is not a length`, `write millimetres as 2750, or 2750 mm, 275 cm, 2.75 m, 9'-2", 5/8 in`, "    stock: [1, two]"},
	{"length as a list", head + "  - id: B2\n    length: [1]\n", "7:13", "wrong-type", "boards[1].length", "B2", "a length is needed here, not a list", "write 2750", "    length: [1]"},
	{"endless length", head + "    stock: [" + strings.Repeat("1", 65) + "]\n", "6:13", "bad-length", "boards[0].stock[0]", "B1", "this is too long for a length", "", "    stock: [" + strings.Repeat("1", 65) + "]"},
	{"point with three values", head + "    line: [[1, 2, 3]]\n", "6:12", "wrong-count", "boards[0].line[0]", "B1", "2 values are needed here, not 3", "write [0, 0]", "    line: [[1, 2, 3]]"},
	{"point with a hole", head + "    line: [[1, null]]\n", "6:16", "wrong-type", "boards[0].line[0][1]", "B1", "a length is needed here, not nothing", "write 2750", "    line: [[1, null]]"},
	{"point as text", head + "    line: [here]\n", "6:12", "wrong-type", "boards[0].line[0]", "B1", `a list of 2 values is needed here, not the text "here"`, "write [0, 0]", "    line: [here]"},
	{"array of wrong size", "size: [1]\n" + head, "1:7", "wrong-count", "size", "", "2 values are needed here, not 1", "write [1, 1]", "size: [1]"},
	{"text for a number", head + "    mass: 9 kg\n", "6:11", "wrong-type", "boards[0].mass", "B1", `a number is needed here, not the text "9 kg"`, "write 9", "    mass: 9 kg"},
	{"quoted number", head + "    mass: \"9\"\n", "6:11", "wrong-type", "boards[0].mass", "B1", `a number is needed here, not the text "9"`, "write 9", `    mass: "9"`},
	{"number with a comma", head + "    mass: 9,5 kg\n", "6:11", "wrong-type", "boards[0].mass", "B1", `a number is needed here, not the text "9,5 kg"`, "write 9.5", "    mass: 9,5 kg"},
	{"words for a number", head + "    mass: much\n", "6:11", "wrong-type", "boards[0].mass", "B1", `a number is needed here, not the text "much"`, "write 12.5", "    mass: much"},
	{"length with a comma", head + "    stock: [\"2,75 m\"]\n", "6:13", "bad-length", "boards[0].stock[0]", "B1", `"2,75 m" is not a length`, "write the decimal point: 2.75 m", "    stock: [\"2,75 m\"]"},
	{"thousands with a comma", head + "    stock: [\"2,750\"]\n", "6:13", "bad-length", "boards[0].stock[0]", "B1", `"2,750" is not a length`, "write 2750 if the comma parts thousands; for metres write 2.750 m", "    stock: [\"2,750\"]"},
	{"comma between brackets", head + "    holes: [{at: 1, width: 2,5 m}]\n", "6:30", "unknown-key", "boards[0].holes[0]", "B1", `unknown key "5 m"`, "a comma parts entries: write decimals with a point, as in 2.75", "    holes: [{at: 1, width: 2,5 m}]"},
	{"line without inner brackets", head + "    line: [4500, 2000, 4500, 5 m]\n", "6:11", "wrong-type", "boards[0].line", "B1", "each entry of this list has to be a list of 2 values", "write [[4500, 2000], [4500, 5 m]]", "    line: [4500, 2000, 4500, 5 m]"},
	{"line of odd values", head + "    line: [4500, 2000, 4500]\n", "6:11", "wrong-type", "boards[0].line", "B1", "each entry of this list has to be a list of 2 values", "write [[0, 0]]", "    line: [4500, 2000, 4500]"},
	{"misspelt list", head + "    hole:\n      - at: 1\n      - at: 2\n", "6:5", "unknown-key", "boards[0]", "B1", `unknown key "hole": its 2 entries are left out`, `did you mean "holes"?`, "    hole:"},
	{"infinite number", head + "    mass: .inf\n", "6:11", "wrong-type", "boards[0].mass", "B1", "a number is needed here, not this", "write 12.5", "    mass: .inf"},
	{"fraction for a whole number", "size: [1, 2.5]\n" + head, "1:11", "wrong-type", "size[1]", "", "a whole number is needed here, not the number 2.5", "write 1", "size: [1, 2.5]"},
	{"truth as text", "name: true\n" + head, "1:7", "wrong-type", "name", "", "text is needed here, not true", "write text", "name: true"},
	{"text as truth", "open: yes\n" + head, "1:7", "wrong-type", "open", "", `true or false is needed here, not the text "yes"`, "write true", "open: yes"},
	{"object for a list", "tags: {a: 1}\n" + head, "1:7", "wrong-type", "tags", "", "a list is needed here, not keys with values", "write [text]", "tags: {a: 1}"},
	{"list for an object", head + "  - [1]\n", "6:5", "wrong-type", "boards[1]", "", "an object with keys is needed here, not a list", "write {id: text, length: 2750}", "  - [1]"},
	{"empty entry", head + "  -\n", "6:5", "empty-entry", "boards[1]", "", "this list entry is empty", "fill it in or take the dash out", "  -"},
	{"duplicate key of the user's own", "notes: {a: 1, a: 2}\n" + head, "1:15", "duplicate-key", "notes.a", "", `the key "a" stands here a second time`, "keep one of the two", "notes: {a: 1, a: 2}"},
	{"bad value in a map", "masses: {a: .nan}\n" + head, "1:13", "wrong-type", "masses.a", "", "a value is needed here, not this", "write text", "masses: {a: .nan}"},

	{"unclosed quote", head + "    kind: \"plain\n  - id: B2\n    length: 1\n", "6:11", "yaml-syntax", "boards[0]", "B1", `the text opened by " is not closed`, `close it with " on the same line`, `    kind: "plain`},
	{"unclosed bracket", head + "    stock: [1, 2\n  - id: B2\n    length: 1\n", "6:12", "yaml-syntax", "boards[0]", "B1", "the bracket [ is not closed", "close it with ]", "    stock: [1, 2"},
	{"unclosed brace", head + "  - {id: B2, length: 1\n", "6:5", "yaml-syntax", "boards[1]", "B2", "the brace { is not closed", "close it with }", "  - {id: B2, length: 1"},
	{"bracket too many", head + "    stock: 1]\n", "6:12", "wrong-type", "boards[0].stock", "B1", `a list is needed here, not the text "1]"`, "write [2750]", "    stock: 1]"},
	{"tab in the indentation", head + "\tkind: plain\n", "6:1", "yaml-syntax", "boards[0]", "B1", "a tab stands in the indentation", "indent with spaces", "\tkind: plain"},
	{"two colons", head + "    kind: a: b\n", "6:11", "yaml-syntax", "boards[0]", "B1", "the value here runs on into another key", "put text that holds a colon in quotes, and check how the next line is indented", "    kind: a: b"},
	{"no colon", head + "    kind\n", "6:5", "yaml-syntax", "boards[0]", "B1", "", "", "    kind"},
	{"no blank after the colon", head + "    kind:plain\n", "6:5", "yaml-syntax", "boards[0]", "B1", "", "", "    kind:plain"},
	{"outdented key", head + "   kind: plain\n", "6:4", "yaml-syntax", "boards[0]", "B1", "this is not indented as what it belongs to", "give all keys of one object the same indentation", "   kind: plain"},
	{"indented key", head + "      kind: plain\n", "5:13", "yaml-syntax", "boards[0]", "B1", "the value here runs on into another key", "put text that holds a colon in quotes, and check how the next line is indented", "    length: 100"},
	{"list beside its key", "tags: - a\n" + head, "1:7", "yaml-syntax", "tags", "", "a list entry cannot begin here", "begin the list on the next line, indented", "tags: - a"},
	{"text after a quote", head + "    kind: \"a\" b\n", "6:15", "yaml-syntax", "boards[0]", "B1", "the line goes on after its value has ended", "check the quotes and the indentation", `    kind: "a" b`},
	{"reserved sign", head + "    kind: @a\n", "6:11", "yaml-syntax", "boards[0]", "B1", "text cannot begin with this character", "put the text in quotes", "    kind: @a"},
	{"broken key", "name: \"x\n" + head, "1:7", "yaml-syntax", "name", "", `the text opened by " is not closed`, `close it with " on the same line`, `name: "x`},

	{"anchor", head + "    kind: &a plain\n", "6:11", "yaml-anchor", "boards[0]", "B1", "anchors (&name) are not read", "write the values out in each place", "    kind: &a plain"},
	{"alias", head + "    kind: *a\n", "6:11", "yaml-anchor", "boards[0]", "B1", "aliases (*name) are not read", "write the values out here; put text that begins with * in quotes", "    kind: *a"},
	{"merge key", head + "    <<: {kind: plain}\n", "6:5", "yaml-merge", "boards[0]", "B1", "merge keys (<<) are not read", "write the keys out here", "    <<: {kind: plain}"},
	{"tag", head + "    kind: !x plain\n", "6:11", "yaml-tag", "boards[0]", "B1", "tags (!name) are not read", "leave the tag out; put text that begins with ! in quotes", "    kind: !x plain"},
	{"question mark key", head + "    ? kind\n    : plain\n", "6:5", "yaml-complex-key", "boards[0]", "B1", "keys with a question mark are not read", "write the key, a colon and a space; put text that begins with ? in quotes", "    ? kind"},
	{"second document", head + "---\n# nothing\nformat: 2\n", "8:1", "several-documents", "", "", "a second document begins here, which is not read", "put it into a file of its own, or take out the line --- or ... before it", "format: 2"},
	{"second document in one piece", "{format: 1, Loads: {}, boards: []}\n---\n{format: 2}\n", "3:1", "several-documents", "", "", "a second document begins here, which is not read", "put it into a file of its own, or take out the line --- or ... before it", "{format: 2}"},
	{"list at the top", "- a\n", "1:1", "wrong-type", "", "", "an object with keys is needed here, not a list", "write {format: 1, Loads: {key: value}, boards: [{id: text, length: 2750}]}", "- a"},
	{"text at the top", "hello\n", "1:1", "wrong-type", "", "", `an object with keys is needed here, not the text "hello"`, "write {format: 1, Loads: {key: value}, boards: [{id: text, length: 2750}]}", "hello"},
	{"not UTF-8", "format: 1\nname: \xff\n", "2:7", "file-encoding", "", "", "a character here is not UTF-8 text", "save the file with the encoding UTF-8", "name: \ufffd"},
}

func TestMistakes(t *testing.T) {
	for _, m := range mistakes {
		t.Run(m.name, func(t *testing.T) {
			var got shelf
			_, found := Decode("shelf.yaml", []byte(m.file), &got)
			if len(found) == 0 {
				t.Fatal("nothing found")
			}
			f := found[0]
			if len(found) > 1 {
				t.Errorf("also found %v", found[1:])
			}
			if m.what == "" {
				m.what, m.fix = f.What.String(), f.Fix.String() // the library's choice of words may change
			}
			want := finding.Finding{Code: m.code, Severity: f.Severity, Object: m.object, Path: m.path, What: words.Text(m.what), Fix: words.Text(m.fix), Place: f.Place}
			same(t, "finding", want, f)
			if place := "shelf.yaml:" + m.place; f.Place.String() != place || f.Place.Text != m.text {
				t.Errorf("place %s %q, want %s %q", f.Place, f.Place.Text, place, m.text)
			}
		})
	}
}

// A mistake in one entry leaves the others whole.
func TestNeighboursSurvive(t *testing.T) {
	for _, m := range mistakes {
		if !strings.HasPrefix(m.file, head) || m.code == "several-documents" || strings.Contains(m.file, "B2") || strings.HasPrefix(m.name, "duplicate top") {
			continue
		}
		t.Run(m.name, func(t *testing.T) {
			var got shelf
			Decode("shelf.yaml", []byte(m.file+"  - id: last\n    length: 7\n"), &got)
			if got.Format != 1 || len(got.Boards) < 2 {
				t.Fatalf("read %+v", got)
			}
			same(t, "last entry", board{ID: "last", Length: mm(7)}, got.Boards[len(got.Boards)-1])
		})
	}
}

func TestUnreadIsMarked(t *testing.T) {
	var got shelf
	Decode("x", []byte("format: 1\nLoads: {}\nboards:\n  - {id: a, length: 1, colour: red}\n  - {id: b, length: x}\n  - {id: c, length: 1, holes: [{at: x}]}\n  - {id: d, length: 1\n  - 5\n  -\n"), &got)
	var marks []bool
	for _, b := range got.Boards {
		marks = append(marks, b.Unread)
	}
	same(t, "marks", []bool{false, true, true, true, true, true}, marks)
}

// A pointer is set only to what could be read in full.
func TestPointerNeedsAll(t *testing.T) {
	var got shelf
	Decode("x", []byte("format: 1\nLoads: {}\nboards: []\norigin: [1, x]\n"), &got)
	if got.Origin != nil {
		t.Errorf("origin is %v", got.Origin)
	}
}

func TestEmptyFiles(t *testing.T) {
	for name, data := range map[string]string{"nothing": "", "blanks": " \n\t\n", "mark": "\ufeff", "remarks": "# a\n# b\n", "start": "---\n"} {
		t.Run(name, func(t *testing.T) {
			_, found := Decode("x.yaml", []byte(data), &shelf{})
			if len(found) != 1 || found[0].Code != "file-empty" {
				t.Errorf("found %v", found)
			}
		})
	}
}

func TestPlaces(t *testing.T) {
	places, _ := Decode("s.yaml", []byte(sample), &shelf{})
	for path, want := range map[string]string{
		"format":                    "s.yaml:2:9",
		"origin":                    "s.yaml:5:9",
		"tags[1]":                   "s.yaml:7:11",
		"notes.stud_spacing":        "s.yaml:9:17",
		"rule.value":                "s.yaml:13:15",
		"boards[0]":                 "s.yaml:15:5",
		"boards[0].line[1]":         "s.yaml:19:20",
		"boards[0].line[1].x":       "s.yaml:19:20",
		"boards[0].holes[1].width":  "s.yaml:24:16",
		"boards[0].holes[1].height": "s.yaml:23:9",
		"boards[0].holes[7].width":  "s.yaml:22:7",
		"boards[2].id":              "s.yaml:28:9",
		"boards[x]":                 "s.yaml:15:1",
		"nowhere.at[all]":           "s.yaml:1:1",
		"":                          "s.yaml:1:1",
	} {
		if got := places.At(path).String(); got != want {
			t.Errorf("%q stands at %s, want %s", path, got, want)
		}
	}
	if text := places.At("boards[1].length").Text; text != "  - {id: B2, length: 3 m}" {
		t.Errorf("text is %q", text)
	}
	list := finding.List{{Path: "format"}, {Path: ""}, {Path: "name", Place: finding.Place{File: "other"}}}
	places.Fill(list)
	if list[0].Place.Line != 2 || !list[1].Place.IsZero() || list[2].Place.File != "other" {
		t.Errorf("filled %v", list)
	}
	if p := (Places{}).At("format"); !p.IsZero() {
		t.Errorf("zero places know %v", p)
	}
}

func TestManyMistakesAreCut(t *testing.T) {
	_, found := Decode("x.yaml", []byte("format: 1\nLoads: {}\nboards: ["+strings.Repeat("1, ", 5000)+"]\n"), &shelf{})
	if len(found) != maxFindings+1 || found[maxFindings].What.String() != "4000 more mistakes are not listed" {
		t.Errorf("%d findings, last %v", len(found), found[len(found)-1])
	}
}

// Files made to exhaust stack, memory or time are refused with a finding.
func TestHostileFiles(t *testing.T) {
	for name, data := range map[string]string{
		"brackets":         "notes: {a: " + strings.Repeat("[", 1_000_000),
		"braces":           strings.Repeat("{a: ", 500_000),
		"dashes":           "tags:\n  " + strings.Repeat("- ", 500_000),
		"keys":             "notes:\n" + strings.Repeat("  a: 1\n", 200_000),
		"keys in brackets": "notes: [\n" + strings.Repeat("a: 1\n", 200_000) + "]",
		"anchors":          "notes: &a [x]\nmasses: [*a, *a]\n",
		"nested keys":      nested(2000),
		"too large":        strings.Repeat("#", MaxFile+1),
		"large block":      "name: '" + strings.Repeat("x", maxBlock) + "'\n",
		"entries":          "boards:\n" + strings.Repeat("-\n", maxEntries+1),
		"entries in one":   "tags: [" + strings.Repeat("a,", maxEntries+1) + "]",
	} {
		t.Run(name, func(t *testing.T) {
			_, found := Decode("x.yaml", []byte(data), &shelf{})
			if found.Count(finding.Error) == 0 {
				t.Error("nothing found")
			}
		})
	}
}

func nested(depth int) string {
	var b strings.Builder
	b.WriteString("notes:\n")
	for i := range depth {
		fmt.Fprintf(&b, "%*sa:\n", i+1, "")
	}
	return b.String()
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(sample))
	f.Add([]byte(strings.Repeat("\xb5", 300)))
	for _, m := range mistakes {
		f.Add([]byte(m.file))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var got shelf
		places, found := Decode("x.yaml", data, &got)
		for _, m := range found {
			if m.What == "" || m.Code == "" || m.Place.File == "" {
				t.Fatalf("%+v says too little", m)
			}
		}
		places.At("boards[0].holes[0].at")
	})
}
