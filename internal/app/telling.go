package app

import "context"

type tellerKey struct{}

// Telling returns a context under which long works tell how far they have come:
// "cutting", by products and zones, and "alternates" of a bid.
func Telling(ctx context.Context, p Progress) context.Context {
	return context.WithValue(ctx, tellerKey{}, p)
}

// teller returns whom the works under a context tell.
func teller(ctx context.Context) Progress {
	if p, ok := ctx.Value(tellerKey{}).(Progress); ok {
		return p
	}
	return Quiet
}
