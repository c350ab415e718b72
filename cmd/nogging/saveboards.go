package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"

	"nogging/internal/app"
	"nogging/internal/cut/together"
)

// saving is the option of commands in which boards are bought.
type saving struct {
	SaveBoards bool `help:"Lay walls out so that fewest boards are bought for each zone, where that is as right and takes no more pieces, screws or steel; save_boards in the plan does so for every command."`
}

// build lays the plan out, for fewest boards if that is asked for.
func (s *saving) build(j *app.Job, progress app.Progress) error {
	if s.SaveBoards || j.Plan.SaveBoards {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		defer stop()
		if err := j.SaveBoards(ctx, progress); err != nil {
			return fmt.Errorf("fitting walls to boards: %w", err)
		}
	}
	j.Build(progress)
	return nil
}

// printSaved says what laying walls out for fewest boards saves.
func printSaved(out io.Writer, list []together.Saving) {
	if list == nil {
		return
	}
	sum := together.Sum(list)
	if sum.Area >= sum.PlainArea {
		fmt.Fprintf(out, "No way to lay the walls out needs fewer boards than the %s of the plain layout.\n", count(sum.Plain, "board"))
		return
	}
	fmt.Fprintf(out, "Laid out for fewest boards: %s (%.1f m²) instead of %d (%.1f m²), %.1f %% less\n",
		count(sum.Boards, "board"), sum.Area, sum.Plain, sum.PlainArea, 100*(1-sum.Area/sum.PlainArea))
	for _, s := range list {
		if s.Boards != s.Plain || s.Area != s.PlainArea {
			fmt.Fprintf(out, "  %s  %s  %s (%.1f m²) instead of %d (%.1f m²)\n", s.Zone, s.Board, count(s.Boards, "board"), s.Area, s.Plain, s.PlainArea)
		}
	}
}
