package table_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nogging/internal/quantity"
	"nogging/internal/table"
)

// Separators, quotes and marks of the byte order as RFC 4180 and common programs
// write them; the head row is not the first.
func TestFind(t *testing.T) {
	rows, err := table.CSV([]byte("\xef\xbb\xbfHarbour clinic;;\n\n No ; Length [m];\"Note; long\"\n1;2,45;\"a \"\"b\"\"\"\n2;\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	tab := table.Find("x.csv", rows, []table.Field{{Key: "no", Heads: []string{"no"}, Needed: true}, {Key: "length", Heads: []string{"length"}}, {Key: "note", Heads: []string{"note; long"}}, {Key: "other", Heads: []string{"other"}}})
	if len(tab.Found) > 0 || len(tab.Rows) != 2 {
		t.Fatalf("%d rows, found %v", len(tab.Rows), tab.Found)
	}
	first := tab.Rows[0]
	if l, ok := tab.Length(first, "length", tab.Unit("length")); !ok || l != quantity.MM(2450) {
		t.Errorf("length %s", l)
	}
	got := []string{tab.Cell(first, "no"), tab.Cell(first, "note"), tab.Cell(tab.Rows[1], "note"), tab.Cell(first, "other"), tab.Head("length"), tab.Unit("no")}
	if diff := cmp.Diff([]string{"1", `a "b"`, "", "", "length", ""}, got); diff != "" {
		t.Error(diff)
	}
	if p := tab.Place(first, "length"); p.Line != 4 || p.Column != 2 || p.File != "x.csv" || tab.Has("other") {
		t.Errorf("place %+v", p)
	}
}

func TestNeeded(t *testing.T) {
	rows, _ := table.CSV([]byte("a,b\n1,2\n"), "")
	tab := table.Find("x.csv", rows, []table.Field{{Key: "a", Heads: []string{"a"}}, {Key: "c", Heads: []string{"c"}, Needed: true, Fix: "name it"}})
	if len(tab.Rows) != 0 || len(tab.Found) != 1 || tab.Found[0].Fix.String() != "name it, where HEAD is one of: a, b" {
		t.Errorf("rows %v, found %v", tab.Rows, tab.Found)
	}
}

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
	}{{"2,45", "m", 2450}, {"2450", "", 2450}, {"+2.45 m", "mm", 2450}, {"-12", "mm", -12}, {"9'-2\"", "m", 2794}, {"1/2 in", "", 12.7}} {
		if got, err := table.ParseLength(c.text, c.unit); err != nil || got != quantity.MM(c.want) {
			t.Errorf("%q: %s, %v; want %g", c.text, got, err, c.want)
		}
	}
	for _, bad := range []string{"2,4,5", "wide", "", "1.2.3"} {
		if got, err := table.ParseLength(bad, "m"); err == nil {
			t.Errorf("%q: %s", bad, got)
		}
	}
}

func FuzzFind(f *testing.F) {
	f.Add([]byte("x;y [m]\n1,2;3\n"), ";")
	f.Fuzz(func(t *testing.T, data []byte, separator string) {
		if separator != "" && separator != ";" && separator != "\t" {
			separator = ""
		}
		rows, _ := table.CSV(data, separator)
		tab := table.Find("x", rows, []table.Field{{Key: "x", Heads: []string{"x"}}, {Key: "y", Heads: []string{"y"}}})
		for _, r := range tab.Rows {
			tab.Cell(r, "x")
			tab.Length(r, "y", tab.Unit("y"))
		}
	})
}
