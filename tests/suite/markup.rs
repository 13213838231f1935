//! A page read as XML, by a reader that is not ours.

use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;

/// An element with what is in it.
#[derive(Debug, Default)]
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: BTreeMap<String, String>,
    children: Vec<Node>,
}

#[derive(Debug)]
enum Node {
    Element(Element),
    Text(String),
}

/// Reads a page; it must be well-formed.
pub(crate) fn read(page: &str) -> Element {
    let mut reader = quick_xml::Reader::from_str(page);
    let mut open = vec![Element::default()];
    loop {
        match reader.read_event().expect("the page is well-formed") {
            Event::Start(start) => open.push(begun(&start)),
            Event::Empty(start) => add(&mut open, Node::Element(begun(&start))),
            Event::End(_) => {
                let element = open.pop().expect("something is open");
                add(&mut open, Node::Element(element));
            }
            Event::Text(text) => {
                add(&mut open, Node::Text(text.xml10_content().into_owned()));
            }
            Event::GeneralRef(name) => {
                let sign = name.resolve_char_ref().expect("a reference to a sign");
                let named = quick_xml::escape::resolve_predefined_entity(&name);
                let text = sign.map(String::from).or(named.map(str::to_owned));
                add(
                    &mut open,
                    Node::Text(text.expect("XML knows the reference")),
                );
            }
            Event::DocType(_) => {}
            Event::Eof => break,
            other @ (Event::CData(_) | Event::Comment(_) | Event::Decl(_) | Event::PI(_)) => {
                panic!("not looked for in a page: {other:?}")
            }
        }
    }
    assert_eq!(open.len(), 1, "everything was closed");
    open.pop().expect("the page itself")
}

fn add(open: &mut [Element], node: Node) {
    open.last_mut()
        .expect("the page itself")
        .children
        .push(node);
}

fn begun(start: &BytesStart<'_>) -> Element {
    let attributes = start.attributes().map(|attribute| {
        let attribute = attribute.expect("a well-formed attribute");
        let value = attribute
            .normalized_value(XmlVersion::Implicit1_0)
            .expect("a value");
        (attribute.key.as_ref().to_owned(), value.into_owned())
    });
    Element {
        name: start.name().as_ref().to_owned(),
        attributes: attributes.collect(),
        children: Vec::new(),
    }
}

impl Element {
    /// All elements below it, in the order of the page.
    pub(crate) fn all(&self) -> Vec<&Element> {
        let mut found = Vec::new();
        for child in &self.children {
            if let Node::Element(element) = child {
                found.push(element);
                found.extend(element.all());
            }
        }
        found
    }

    /// All elements of a name below it.
    pub(crate) fn named(&self, name: &str) -> Vec<&Element> {
        let mut found = self.all();
        found.retain(|it| it.name == name);
        found
    }

    /// An attribute; empty where it is not there.
    pub(crate) fn attribute(&self, name: &str) -> &str {
        self.attributes.get(name).map_or("", String::as_str)
    }

    /// All text in it, in the order of the page.
    pub(crate) fn text(&self) -> String {
        let parts = self.children.iter().map(|child| match child {
            Node::Element(element) => element.text(),
            Node::Text(text) => text.clone(),
        });
        parts.collect()
    }

    /// The elements just below it.
    pub(crate) fn children(&self) -> Vec<&Element> {
        let children = self.children.iter();
        children
            .filter_map(|child| match child {
                Node::Element(element) => Some(element),
                Node::Text(_) => None,
            })
            .collect()
    }
}
