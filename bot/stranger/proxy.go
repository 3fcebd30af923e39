package stranger

import (
	"io"
	"net"
	"sync"
)

// A proxy stands between one process and the database, so that this one
// process can be cut off from it.
type proxy struct {
	l    net.Listener
	dial func() (net.Conn, error)

	mu     sync.Mutex
	how    string // "" lets through, "refuse" hangs up, "swallow" takes everything and passes nothing on
	passed chan struct{}
	open   map[net.Conn]bool
}

func newProxy(dial func() (net.Conn, error)) (*proxy, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	x := &proxy{l: l, dial: dial, open: map[net.Conn]bool{}, passed: make(chan struct{})}
	close(x.passed)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go x.serve(c)
		}
	}()
	return x, nil
}

func (x *proxy) address() string { return x.l.Addr().String() }

// cut cuts the process off, mend lets it through again.
func (x *proxy) cut(how string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.how, x.passed = how, make(chan struct{})
	if how == "refuse" {
		for c := range x.open {
			c.Close()
		}
	}
}

func (x *proxy) mend() {
	x.mu.Lock()
	defer x.mu.Unlock()
	x.how = ""
	close(x.passed)
	for c := range x.open { // what was swallowed is gone, so its connections are
		c.Close()
	}
}

func (x *proxy) close() {
	x.l.Close()
	x.mu.Lock()
	defer x.mu.Unlock()
	for c := range x.open {
		c.Close()
	}
}

// way says how it is, and when it was last let through.
func (x *proxy) way() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.how
}

func (x *proxy) serve(c net.Conn) {
	x.mu.Lock()
	how, passed := x.how, x.passed
	x.open[c] = true
	x.mu.Unlock()
	defer x.drop(c)
	switch how {
	case "refuse":
		return
	case "swallow":
		<-passed
		return
	}
	to, err := x.dial()
	if err != nil {
		return
	}
	x.mu.Lock()
	x.open[to] = true
	x.mu.Unlock()
	defer x.drop(to)
	go func() {
		io.Copy(filter{x, to}, c)
		to.Close()
		c.Close()
	}()
	io.Copy(filter{x, c}, to)
}

func (x *proxy) drop(c net.Conn) {
	c.Close()
	x.mu.Lock()
	defer x.mu.Unlock()
	delete(x.open, c)
}

// filter passes on what the proxy lets through.
type filter struct {
	x *proxy
	w io.Writer
}

func (f filter) Write(b []byte) (int, error) {
	if f.x.way() != "" {
		return len(b), nil
	}
	return f.w.Write(b)
}
