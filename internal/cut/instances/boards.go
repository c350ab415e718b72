package instances

import (
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"nogging/internal/cut/sheet"
	"nogging/internal/quantity"
)

// Boards is one instance of cutting rectangles from sheets.
type Boards struct {
	Name, Set string
	Problem   sheet.Problem
	Best      int64 // best-known cost
	Bound     int64 // no plan of these stages costs less; 0 where it is not known
}

// ReadClasses reads the 500 instances of the ten classes of two-dimensional bin packing, from
// a folder laid out as gbp2d: sheets of one size, pieces that may not be turned,
// three stages.
func ReadClasses(folder fs.FS) ([]Boards, error) {
	rows, err := table(folder, "best_known_class_2bp.csv")
	if err != nil {
		return nil, err
	}
	files := map[string]map[string]sheet.Problem{}
	var all []Boards
	for _, r := range rows {
		file := r["file"]
		if files[file] == nil {
			if files[file], err = readClass(folder, file); err != nil {
				return nil, fmt.Errorf("%s: %w", file, err)
			}
		}
		p, ok := files[file][r["instance"]]
		if !ok {
			return nil, fmt.Errorf("%s holds no instance %s", file, r["instance"])
		}
		b := Boards{Name: r["instance"], Set: strings.TrimSuffix(path.Base(file), ".2bp"), Problem: p}
		if b.Best, err = strconv.ParseInt(r["best_guillotine3_oriented"], 10, 64); err != nil {
			return nil, err
		}
		if b.Bound, err = strconv.ParseInt(r["lb_dff_oriented"], 10, 64); err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

// readClass reads one class; its comments stand between the numbers.
func readClass(folder fs.FS, name string) (map[string]sheet.Problem, error) {
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		return nil, err
	}
	var numbers []int64
	for _, w := range strings.Fields(string(text)) {
		if n, err := strconv.ParseInt(w, 10, 64); err == nil {
			numbers = append(numbers, n)
		}
	}
	all := map[string]sheet.Problem{}
	for len(numbers) > 6 {
		class, n, number := numbers[0], int(numbers[1]), numbers[2]
		h, w := numbers[4], numbers[5]
		numbers = numbers[6:]
		if len(numbers) < 2*n {
			return nil, fmt.Errorf("the file ends too early")
		}
		p := sheet.Problem{Stocks: []sheet.Stock{{Width: quantity.Length(w), Height: quantity.Length(h), Cost: 1}}}
		for i := range n {
			p.Pieces = append(p.Pieces, sheet.Piece{Height: quantity.Length(numbers[2*i]), Width: quantity.Length(numbers[2*i+1]), Count: 1})
		}
		numbers = numbers[2*n:]
		all[fmt.Sprintf("Class_%02d_%d_%d", class, n, number)] = p
	}
	return all, nil
}

// ReadSeveralSheets reads the twelve cintra instances with three sizes
// of sheets, cut in two stages.
func ReadSeveralSheets(folder fs.FS) ([]Boards, error) {
	rows, err := table(folder, "best_known_cintra2008_multisheet.csv")
	if err != nil {
		return nil, err
	}
	var all []Boards
	for _, r := range rows {
		n, err := numbersOf(folder, r["file"])
		if err != nil || len(n) < 6 {
			return nil, fmt.Errorf("%s is not readable: %w", r["file"], err)
		}
		b := Boards{Name: r["instance"], Set: "three sheets", Problem: sheet.Problem{Stages: 2, First: sheet.Across}}
		stocks, pieces := int(n[1]), int(n[2])
		n = n[6:]
		if len(n) < 3*stocks+4*pieces {
			return nil, fmt.Errorf("%s ends too early", r["file"])
		}
		for i := range stocks {
			b.Problem.Stocks = append(b.Problem.Stocks, sheet.Stock{Width: quantity.Length(n[3*i]), Height: quantity.Length(n[3*i+1]), Cost: n[3*i+2]})
		}
		n = n[3*stocks:]
		for i := range pieces {
			b.Problem.Pieces = append(b.Problem.Pieces, sheet.Piece{Width: quantity.Length(n[4*i]), Height: quantity.Length(n[4*i+1]), Count: int(n[4*i+2])})
		}
		if b.Best, err = strconv.ParseInt(r["best_2stage_oriented"], 10, 64); err != nil {
			return nil, err
		}
		if b.Bound, err = strconv.ParseInt(r["lb_2stage_oriented"], 10, 64); err != nil {
			return nil, err
		}
		all = append(all, b)
	}
	return all, nil
}

// Valued is one sheet to be filled with pieces of the greatest value, each as often
// as one likes.
type Valued struct {
	Name                  string
	Sheet                 sheet.Stock
	Pieces                []sheet.Piece
	Values                []int64
	Best, BestWhereTurned int64
}

// ReadValued reads the gcut instances with unlimited copies and stages.
func ReadValued(folder fs.FS) ([]Valued, error) {
	rows, err := table(folder, "best_known_gcut_unconstrained.csv")
	if err != nil {
		return nil, err
	}
	var all []Valued
	for _, r := range rows {
		n, err := numbersOf(folder, r["file"])
		if err != nil || len(n) < 3 || len(n) < 3+3*int(n[0]) {
			return nil, fmt.Errorf("%s is not readable: %w", r["file"], err)
		}
		v := Valued{Name: r["instance"], Sheet: sheet.Stock{Width: quantity.Length(n[1]), Height: quantity.Length(n[2]), Cost: 1}}
		for i := range int(n[0]) {
			v.Pieces = append(v.Pieces, sheet.Piece{Width: quantity.Length(n[3+3*i]), Height: quantity.Length(n[4+3*i]), Count: 1})
			v.Values = append(v.Values, n[5+3*i])
		}
		v.Best, _ = strconv.ParseInt(r["optimal_value_oriented"], 10, 64)
		v.BestWhereTurned, _ = strconv.ParseInt(r["optimal_value_rotated"], 10, 64)
		all = append(all, v)
	}
	return all, nil
}

// numbersOf reads the whole numbers of a file up to the first other word.
func numbersOf(folder fs.FS, name string) ([]int64, error) {
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		return nil, err
	}
	var list []int64
	for _, w := range strings.Fields(string(text)) {
		n, err := strconv.ParseInt(w, 10, 64)
		if err != nil {
			break
		}
		list = append(list, n)
	}
	return list, nil
}
