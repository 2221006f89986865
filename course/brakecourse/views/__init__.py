"""What a person sees: drawings, gauges to read, quizzes, and the one set of words and colours."""
