package desk

// Holds reports whether a project is in memory.
func (d *Desk) Holds(id string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.open[id] != nil
}

// HoldMost sets how many walls are held.
func (d *Desk) HoldMost(walls int) { d.most = walls }
