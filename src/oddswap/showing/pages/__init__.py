"""Answers, laws, alarms and plans as pages to read and as plain data. Main door: `answer_markdown`."""
