package screen

import tea "github.com/charmbracelet/bubbletea"

type bench struct{ Base }

func newBench(e *Env) *bench { return &bench{Base: e.Base()} }

func (b *bench) SetSize(w, h int) Screen            { b.Size(w, h); return b }
func (b *bench) View() string                       { return "" }
func (b *bench) Title() (string, string)            { return "oilcan", "" }
func (b *bench) Keys() []Key                        { return nil }
func (b *bench) Update(m tea.Msg) (Screen, tea.Cmd) { b.Take(m); return b, nil }
