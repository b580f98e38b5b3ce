"""What a page of practice or papers asks of the browser's Python, asked by a test instead."""

# Each request of the action `practice`, one after another; gives the replies.
ASK = """async (requests) => {
    const client = window.hbCalculatorClient;
    const replies = [];
    for (const request of requests) {
        replies.push(await client.run({action: 'practice', ...request}));
    }
    return replies;
}"""
