package standin

// Remove makes a moderator delete a message; it was there for everybody.
func (s *Stand) Remove(m *Message) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if have := s.messages[m.ID]; have != nil && !have.deleted {
		s.remove(have)
	}
}
