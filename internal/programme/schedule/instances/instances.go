// Package instances reads public benchmark instances of project scheduling, for tests
// and measurements: PSPLIB and problems with generalised
// precedence relations (ProGen/max) of which only the minimum lags are kept. It takes
// the folder that holds them and gives each with its best-known makespan.
package instances

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"nogging/internal/programme/schedule"
)

// Instance is one benchmark problem.
type Instance struct {
	Name, Set string
	Problem   schedule.Problem
	Best      int  // best-known makespan
	Proven    bool // none is shorter
}

// Read reads all instances of a folder laid out as rcpsp: j30, j60 and j120, then
// those with minimum lags. Instances that are listed but not there are left out; it
// gives their files as missing.
func Read(folder fs.FS) (all []Instance, missing []string, err error) {
	all, missing, err = read(folder, "best_known_rcpsp.csv", parseJobs, "")
	if err != nil {
		return nil, nil, err
	}
	lags, more, err := read(folder, "best_known_minlag_derived.csv", parseLags, "lags ")
	return append(all, lags...), append(missing, more...), err
}

func read(folder fs.FS, list string, parse func([]string) (schedule.Problem, error), prefix string) (all []Instance, missing []string, err error) {
	f, err := folder.Open(list)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", list, err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for _, row := range rows[1:] {
		file := row[column["file"]]
		text, err := fs.ReadFile(folder, file)
		if errors.Is(err, fs.ErrNotExist) {
			missing = append(missing, file)
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		in := Instance{Name: file, Set: prefix + strings.TrimPrefix(strings.Split(file, "/")[0], "max_"), Proven: row[column["proven"]] == "yes"}
		if in.Problem, err = parse(strings.Split(string(text), "\n")); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", file, err)
		}
		if in.Best, err = strconv.Atoi(row[column["best_known"]]); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", file, err)
		}
		all = append(all, in)
	}
	return all, missing, nil
}

// numbers reads the whole numbers of a line; lags stand in brackets.
func numbers(line string) ([]int, error) {
	var all []int
	for _, word := range strings.Fields(strings.NewReplacer("[", " ", "]", " ").Replace(line)) {
		n, err := strconv.Atoi(word)
		if err != nil {
			return nil, err
		}
		all = append(all, n)
	}
	return all, nil
}

// parseJobs reads the .sm format of PSPLIB, of which the sections are known by their
// titles.
func parseJobs(lines []string) (schedule.Problem, error) {
	var p schedule.Problem
	section := ""
	for _, line := range lines {
		if title, _, ok := strings.Cut(line, ":"); ok {
			section = title
			continue
		}
		row, err := numbers(line)
		if err != nil || len(row) == 0 {
			continue // headings and rules
		}
		switch section {
		case "PRECEDENCE RELATIONS":
			for _, to := range row[3:] {
				p.Links = append(p.Links, schedule.Link{From: row[0] - 1, To: to - 1, Work: schedule.All})
			}
		case "REQUESTS/DURATIONS":
			p.Tasks = append(p.Tasks, task(row[0], row[2], row[3:]))
		case "RESOURCEAVAILABILITIES":
			p.Resources = resources(row)
		}
	}
	if len(p.Tasks) == 0 || len(p.Resources) == 0 {
		return p, fmt.Errorf("no jobs or no resources")
	}
	return p, nil
}

// parseLags reads the .sch format and leaves out every negative, that is maximum, lag.
func parseLags(lines []string) (schedule.Problem, error) {
	var p schedule.Problem
	head, err := numbers(lines[0])
	if err != nil || len(head) < 2 || len(lines) < 2*(head[0]+2)+2 {
		return p, fmt.Errorf("not a problem with lags: %v", err)
	}
	jobs := head[0] + 2
	for _, line := range lines[1 : jobs+1] {
		row, err := numbers(line)
		if err != nil || len(row) < 3 || len(row) != 3+2*row[2] {
			return p, fmt.Errorf("not a row of lags: %s", line)
		}
		for k := range row[2] {
			if lag := row[3+row[2]+k]; lag >= 0 {
				p.Links = append(p.Links, schedule.Link{From: row[0], To: row[3+k], Elapsed: lag})
			}
		}
	}
	for _, line := range lines[jobs+1 : 2*jobs+1] {
		row, err := numbers(line)
		if err != nil || len(row) < 3 {
			return p, fmt.Errorf("not a row of demands: %s", line)
		}
		p.Tasks = append(p.Tasks, task(row[0], row[2], row[3:]))
	}
	row, err := numbers(lines[2*jobs+1])
	p.Resources = resources(row)
	return p, err
}

func task(id, duration int, units []int) schedule.Task {
	t := schedule.Task{ID: strconv.Itoa(id), Duration: duration, Calendar: schedule.Always, Zone: -1}
	for r, u := range units {
		if u > 0 {
			t.Demands = append(t.Demands, schedule.Demand{Resource: r, Units: u})
		}
	}
	return t
}

func resources(units []int) []schedule.Resource {
	var all []schedule.Resource
	for r, u := range units {
		all = append(all, schedule.Resource{ID: "R" + strconv.Itoa(r+1), Capacity: u, Calendar: schedule.Always})
	}
	return all
}
