package plan

// table finds nodes by what they are: open addressing, a power of two of slots, each the node's
// number plus one.
type table struct{ slots []int32 }

func newTable() table { return table{slots: make([]int32, 1<<12)} }

func hash(n *node) uint64 {
	h := n.done[0]*0x9e3779b97f4a7c15 ^ (n.done[1]+0x632be59bd9b4e019)*0xc2b2ae3d27d4eb4f
	h ^= (uint64(uint16(n.row))<<16 | uint64(uint16(n.state))) * 0xd6e8feb86659fd93
	h ^= h >> 32
	h *= 0xd6e8feb86659fd93
	return h ^ h>>29
}

// find gives the slot that holds the node, or the free one it belongs in.
func (t *table) find(nodes []node, n *node) int {
	mask := len(t.slots) - 1
	for i := int(hash(n)) & mask; ; i = (i + 1) & mask {
		at := t.slots[i]
		if at == 0 {
			return i
		}
		m := &nodes[at-1]
		if m.done == n.done && m.row == n.row && m.state == n.state {
			return i
		}
	}
}

// put fills a slot and grows the table where it becomes crowded.
func (t *table) put(nodes []node, slot int, i int32) {
	t.slots[slot] = i + 1
	if len(nodes)*2 < len(t.slots) {
		return
	}
	t.slots = make([]int32, 4*len(t.slots))
	for j := range nodes {
		t.slots[t.find(nodes, &nodes[j])] = int32(j + 1)
	}
}

// entry is a queued node. Of equal f the one with more done comes first, then the older one, so
// that the search is the same every time.
type entry struct {
	f     uint64
	node  int32
	depth uint16
}

func (a entry) less(b entry) bool {
	if a.f != b.f {
		return a.f < b.f
	}
	if a.depth != b.depth {
		return a.depth > b.depth
	}
	return a.node < b.node
}

// heap is a binary heap of entries, the least on top.
type heap []entry

func (h *heap) push(e entry) {
	*h = append(*h, e)
	q := *h
	i := len(q) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !e.less(q[up]) {
			break
		}
		q[i] = q[up]
		i = up
	}
	q[i] = e
}

func (h *heap) pop() entry {
	q := *h
	top, last := q[0], q[len(q)-1]
	q = q[:len(q)-1]
	*h = q
	i := 0
	for len(q) > 0 {
		c := 2*i + 1
		if c >= len(q) {
			break
		}
		if c+1 < len(q) && q[c+1].less(q[c]) {
			c++
		}
		if !q[c].less(last) {
			break
		}
		q[i] = q[c]
		i = c
	}
	if len(q) > 0 {
		q[i] = last
	}
	return top
}
