// Package instances reads public benchmark instances of cutting problems, for
// tests and measurements. It takes the folder that holds them and gives each with
// its best-known value.
package instances

import (
	"encoding/csv"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"nogging/internal/cut/linear"
	"nogging/internal/quantity"
)

// Bars is one instance of cutting bars.
type Bars struct {
	Name, Set string
	Problem   linear.Problem
	Best      int64 // best-known cost
	Proven    bool  // nothing costs less
}

// ReadBars reads every one-dimensional instance of a folder laid out as bpp1d:
// bins of one size, and stock of several lengths.
func ReadBars(folder fs.FS) ([]Bars, error) {
	rows, err := table(folder, "best_known.csv")
	if err != nil {
		return nil, err
	}
	var all []Bars
	files := map[string]map[string]linear.Problem{}
	for _, r := range rows {
		file, _, _ := strings.Cut(r["file"], "#")
		if files[file] == nil {
			if files[file], err = readFile(folder, file); err != nil {
				return nil, err
			}
		}
		p, ok := find(files[file], r["instance"])
		if !ok {
			return nil, fmt.Errorf("%s holds no instance %s", file, r["instance"])
		}
		best, err := strconv.ParseInt(r["best_known"], 10, 64)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", r["instance"], err)
		}
		all = append(all, Bars{r["instance"], r["set"], p, best, r["proven"] == "yes"})
	}
	several, err := readSeveral(folder)
	return append(all, several...), err
}

// find looks up an instance, which files name without the name of their set.
func find(in map[string]linear.Problem, name string) (linear.Problem, bool) {
	if p, ok := in[name]; ok {
		return p, true
	}
	_, short, _ := strings.Cut(name, "_")
	p, ok := in[short]
	return p, ok
}

// table reads a CSV file with a header.
func table(folder fs.FS, name string) ([]map[string]string, error) {
	f, err := folder.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, v := range line {
			row[lines[0][i]] = v
		}
		rows = append(rows, row)
	}
	return rows, nil
}

// readFile reads the instances of one file by their names.
func readFile(folder fs.FS, name string) (map[string]linear.Problem, error) {
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		return nil, err
	}
	t := &tokens{words: strings.Fields(strings.ReplaceAll(strings.ReplaceAll(string(text), "BPP  ", "BPP"), "'", " "))}
	all := map[string]linear.Problem{}
	switch folderName := path.Dir(name); folderName {
	case "falkenauer":
		for range t.whole() {
			title := t.word()
			size := t.tenths()
			n := t.whole()
			t.whole() // the value known when the file was made
			p := bins(size)
			for range n {
				p.Pieces = append(p.Pieces, linear.Piece{Length: t.tenths(), Count: 1})
			}
			all[title] = p
		}
	case "hard28", "schwerin", "waescher":
		for t.more() {
			title := strings.TrimSpace(t.title())
			n := t.whole()
			p := bins(quantity.Length(t.whole()))
			for range n {
				p.Pieces = append(p.Pieces, linear.Piece{Length: quantity.Length(t.whole()), Count: t.whole()})
			}
			all[title] = p
		}
	default:
		n := t.whole()
		p := bins(quantity.Length(t.whole()))
		for range n {
			p.Pieces = append(p.Pieces, linear.Piece{Length: quantity.Length(t.whole()), Count: 1})
		}
		all[strings.TrimSuffix(path.Base(name), ".BPP")] = p
	}
	return all, t.err
}

// bins is a problem of bins of one size that cost one each.
func bins(size quantity.Length) linear.Problem {
	return linear.Problem{Stocks: []linear.Stock{{Length: size, Cost: 1}}}
}

// tokens reads words one after another; the first fault stays.
type tokens struct {
	words []string
	err   error
}

func (t *tokens) more() bool { return t.err == nil && len(t.words) > 0 }

func (t *tokens) word() string {
	if len(t.words) == 0 {
		if t.err == nil {
			t.err = fmt.Errorf("the file ends too early")
		}
		return ""
	}
	w := t.words[0]
	t.words = t.words[1:]
	return w
}

// title reads a name of one or two words, as in BPP 14.
func (t *tokens) title() string {
	name := t.word()
	if name == "BPP" {
		name += t.word()
	}
	return name
}

func (t *tokens) whole() int {
	n, err := strconv.Atoi(t.word())
	if err != nil && t.err == nil {
		t.err = err
	}
	return n
}

// tenths reads a number with at most one decimal as ten times its value.
func (t *tokens) tenths() quantity.Length {
	v, err := strconv.ParseFloat(t.word(), 64)
	if err != nil && t.err == nil {
		t.err = err
	}
	return quantity.Length(v*10 + 0.5)
}

// readSeveral reads the instances with stock of several lengths.
func readSeveral(folder fs.FS) ([]Bars, error) {
	rows, err := table(folder, "best_known_multistock.csv")
	if err != nil {
		return nil, err
	}
	var all []Bars
	for _, r := range rows {
		b := Bars{Name: r["instance"], Set: r["set"], Proven: r["proven"] == "yes"}
		if b.Best, err = strconv.ParseInt(r["optimal_cost"], 10, 64); err != nil {
			return nil, err
		}
		items, err := table(folder, "multistock/"+b.Name+"_items.csv")
		if err != nil {
			return nil, err
		}
		for _, i := range items {
			b.Problem.Pieces = append(b.Problem.Pieces, linear.Piece{Length: number(i["X"]), Count: int(number(i["COPIES"]))})
			b.Problem.Kerf = -number(i["NESTING_LENGTH"])
		}
		stock, err := table(folder, "multistock/"+b.Name+"_bins.csv")
		if err != nil {
			return nil, err
		}
		for _, s := range stock {
			cost := s["COST"]
			if cost == "" {
				cost = s["X"]
			}
			b.Problem.Stocks = append(b.Problem.Stocks, linear.Stock{Length: number(s["X"]), Cost: int64(number(cost)), Count: int(number(s["COPIES"]))})
		}
		all = append(all, b)
	}
	return all, nil
}

// number reads a whole number; what is left out is 0.
func number(text string) quantity.Length {
	n, _ := strconv.ParseInt(text, 10, 64)
	return quantity.Length(n)
}
