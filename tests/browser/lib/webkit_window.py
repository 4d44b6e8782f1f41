# A window with a WebKitGTK view in it that a WebDriver client drives: keeps what a page stores in a folder of its own,
# is as large as a phone, and writes what the engine complains about to standard error.
#   python3 webkit_window.py FOLDER WIDTHxHEIGHT keeps|refuses
import sys

import gi

gi.require_version('Gtk', '3.0')
gi.require_version('WebKit2', '4.1')
from gi.repository import Gtk, WebKit2  # noqa: E402

folder, size, storage = sys.argv[1:4]
width, height = map(int, size.split('x'))
keeps = storage == 'keeps'

kept = WebKit2.WebsiteDataManager(base_data_directory=f'{folder}/data', base_cache_directory=f'{folder}/cache')
# Whatever is not this machine goes to a port where nobody listens.
nowhere = WebKit2.NetworkProxySettings.new('http://127.0.0.1:9', ['127.0.0.1'])
kept.set_network_proxy_settings(WebKit2.NetworkProxyMode.CUSTOM, nowhere)
context = WebKit2.WebContext(website_data_manager=kept)
context.set_automation_allowed(True)
settings = WebKit2.Settings(
    enable_write_console_messages_to_stdout=True,
    enable_html5_local_storage=keeps,
    enable_html5_database=keeps,
)
view = WebKit2.WebView(web_context=context, settings=settings, is_controlled_by_automation=True)
Gtk.Settings.get_default().set_property('gtk-enable-animations', False)  # the person wants no motion
window = Gtk.Window(decorated=False, default_width=width, default_height=height)
window.add(view)
view.connect('close', Gtk.main_quit)
window.connect('destroy', Gtk.main_quit)
window.show_all()
context.connect('automation-started', lambda _, session: session.connect('create-web-view', lambda _: view))
Gtk.main()
