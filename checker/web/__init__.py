"""The page for pasting a list into, and the JSON interface behind it, as one ASGI application.

``page`` and ``class_page`` are the HTML, ``static/`` what they load, ``api`` the routes, ``openapi`` their description.
Nothing is computed in the server's own process: ``workers`` keeps a pool of processes that run ``jobs``, each with a
deadline. ``guard`` is what stands before every route: names of the host, sizes, headers. ``serving`` runs it all.
"""
